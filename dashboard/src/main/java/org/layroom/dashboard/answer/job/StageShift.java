package org.layroom.dashboard.answer.job;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import java.util.Optional;
import org.layroom.predictor.cure.ClockChange;
import org.layroom.predictor.cure.Stage;
import org.layroom.predictor.cure.StageTime;

/**
 * How far the likely time of a stage has moved from what was said when the cup was mixed. A clock
 * never jumps without saying so.
 */
record StageShift(Stage stage, Duration by) {
  /** The shift of one stage; empty when it is small or the stage is out of sight. */
  static Optional<StageShift> of(JsonNode predicted, StageTime now, Instant mixed) {
    for (JsonNode then : predicted) {
      String likely = then.path("from").path("likely").asText("");
      if (then.path("stage").asText().equals(now.stage().id()) && !likely.isEmpty()) {
        double before = Duration.between(mixed, Instant.parse(likely)).toMillis() / 60_000.0;
        double after = now.fromMinutes().p50();
        double by = after - before;
        if (Double.isFinite(after) && ClockChange.counts(before, after)) {
          return Optional.of(new StageShift(now.stage(), Duration.ofSeconds(Math.round(by * 60))));
        }
      }
    }
    return Optional.empty();
  }

  String words() {
    double minutes = Math.abs(by.toSeconds() / 60.0);
    String length =
        minutes < 120
            ? String.format(Locale.ROOT, "%.0f min", minutes)
            : String.format(Locale.ROOT, "%.1f h", minutes / 60);
    String name = stage.words();
    return Character.toUpperCase(name.charAt(0))
        + name.substring(1)
        + " moved "
        + length
        + (by.isNegative()
            ? " earlier: the mold has been warmer than expected at mixing, or a gel test"
                + " changed the prediction."
            : " later: the mold has been colder than expected at mixing, or a gel test changed"
                + " the prediction.");
  }
}
