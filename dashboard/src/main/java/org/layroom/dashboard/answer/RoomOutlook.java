package org.layroom.dashboard.answer;

import java.lang.ref.WeakReference;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import org.layroom.dashboard.forecast.LearnedRooms;
import org.layroom.dashboard.material.GelTests;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.calibration.GelTest;
import org.layroom.predictor.cure.ClockInputs;
import org.layroom.predictor.cure.CureClocks;
import org.layroom.predictor.cure.Stage;
import org.layroom.predictor.cure.StageTime;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.hardening.Hardening;
import org.layroom.predictor.hardening.PartOutcome;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.room.RoomForecast;
import org.layroom.predictor.room.plan.PlanStep;
import org.layroom.predictor.room.plan.StartPlanner;
import org.layroom.predictor.room.plan.StartTime;

/**
 * What the hours ahead do to a layup mixed now: where the mold goes, and what that does to demold.
 * Worked out once for each forecast and material.
 */
final class RoomOutlook {
  private static final Duration HANDS_ON = Duration.ofMinutes(30);

  /** A demold time that moves by less is called the same. */
  private static final double SAME_MINUTES = 60;

  private static final int MOST_KEPT = 100;

  /**
   * In words.
   *
   * @param words one sentence, and one for each trouble
   * @param trouble whether the room is likely to leave the material's limits before it has gelled
   */
  record Ahead(String words, boolean trouble) {}

  private record Key(RoomName room, String material, List<GelTest> tests, Hardening hardening) {}

  /** Holds no forecast of a room that is at rest by now. */
  private record Made(WeakReference<RoomForecast> of, Ahead ahead) {}

  private final LearnedRooms learned;
  private final GelTests tests;
  private final Supplier<List<PartOutcome>> outcomes;
  private final ZoneId zone;
  private final Map<Key, Made> made = new ConcurrentHashMap<>();

  /**
   * The outlook of all rooms.
   *
   * @param outcomes what became of this shop's parts
   */
  RoomOutlook(
      LearnedRooms learned, GelTests tests, Supplier<List<PartOutcome>> outcomes, ZoneId zone) {
    this.outcomes = outcomes;
    this.learned = learned;
    this.tests = tests;
    this.zone = zone;
  }

  /** What comes of a layup mixed now with the data sheet's dose; empty without a forecast. */
  Optional<Ahead> of(RoomName room, Material material, Instant now) {
    Optional<RoomForecast> forecast = learned.latest(room, now);
    if (forecast.isEmpty()) {
      return Optional.empty();
    }
    try {
      Calibration can = tests.calibration(material);
      Hardening hardening = material.hardening().taughtBy(outcomes.get(), material.id());
      Key key = new Key(room, material.id(), can.tests(), hardening);
      Made kept = made.get(key);
      if (kept == null || !Objects.equals(kept.of().get(), forecast.get())) {
        if (made.size() > MOST_KEPT) {
          made.clear();
        }
        kept =
            new Made(
                new WeakReference<>(forecast.get()),
                ahead(forecast.get(), material, can, hardening));
        made.put(key, kept);
      }
      return Optional.of(kept.ahead());
    } catch (InvalidMaterial e) {
      return Optional.empty();
    }
  }

  private Ahead ahead(
      RoomForecast forecast, Material material, Calibration can, Hardening hardening) {
    PlanStep step =
        PlanStep.of(material, can.belief(), material.gel().doseByWeightPct(), HANDS_ON)
            .hardening(hardening);
    StartTime start = StartPlanner.at(forecast, step, forecast.at());
    double likely = demoldMinutes(start.steps().get(0).stages());
    double nowC = forecast.moldOrAir().points().get(0).p50();
    TemperatureOutlook stays = TemperatureOutlook.constant(nowC);
    double ifItStayed =
        demoldMinutes(
            CureClocks.stages(
                ClockInputs.forJob(
                    material, can.belief(), step.doseByWeightPct(), stays, stays, hardening)));
    String what = forecast.mold().isPresent() ? "Mold" : "Air";
    String course = ForecastAnswer.nextDay(what, forecast.moldOrAir(), zone);
    List<String> troubles =
        start.troubles().stream().filter(words -> words.startsWith("The mold may ")).toList();
    String words =
        course.substring(0, course.length() - 1)
            + ": "
            + demoldWords(forecast.at(), likely, ifItStayed)
            + (troubles.isEmpty() ? "" : " " + String.join(" ", troubles));
    return new Ahead(words, !troubles.isEmpty());
  }

  private static double demoldMinutes(List<StageTime> stages) {
    return stages.stream()
        .filter(stage -> stage.stage() == Stage.DEMOLD)
        .mapToDouble(stage -> stage.fromMinutes().p50())
        .findFirst()
        .orElse(Double.POSITIVE_INFINITY);
  }

  /** Where demold goes, likely, for something mixed at a time. */
  private String demoldWords(Instant mixed, double likely, double ifItStayed) {
    if (!Double.isFinite(likely)) {
      return "no demold within 3 days.";
    }
    String when = ClockTimes.about(mixed.plusSeconds(Math.round(likely * 60)), mixed, zone);
    if (likely > ifItStayed + SAME_MINUTES) {
      return "demold moves back to " + when + ".";
    }
    return likely < ifItStayed - SAME_MINUTES
        ? "demold moves up to " + when + "."
        : "demold likely " + when + ".";
  }
}
