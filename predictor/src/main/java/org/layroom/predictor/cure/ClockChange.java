package org.layroom.predictor.cure;

import java.util.ArrayList;
import java.util.List;
import org.layroom.predictor.limits.Words;

/**
 * Why a stage has moved since it was last shown. A clock never jumps without saying so.
 *
 * @param stage which stage moved
 * @param beforeMinutes its likely time as shown before, minutes after mixing
 * @param afterMinutes its likely time now
 * @param words one sentence with the reason
 */
public record ClockChange(Stage stage, double beforeMinutes, double afterMinutes, String words) {
  private static final double LEAST_MINUTES = 5;
  private static final double LEAST_PART = 0.03;
  private static final double LEAST_K = 0.2;

  /**
   * The stages that moved by over 5 min and over 3 %.
   *
   * @param before what the clocks ran on when they were last shown
   * @param after what they run on now
   */
  public static List<ClockChange> between(ClockInputs before, ClockInputs after) {
    List<StageTime> earlier = CureClocks.stages(before);
    List<StageTime> later = CureClocks.stages(after);
    List<ClockChange> changes = new ArrayList<>();
    for (StageTime now : later) {
      for (StageTime then : earlier) {
        if (then.stage() == now.stage() && moved(then, now)) {
          changes.add(change(before, after, then, now));
        }
      }
    }
    return List.copyOf(changes);
  }

  private static boolean moved(StageTime then, StageTime now) {
    return counts(then.fromMinutes().p50(), now.fromMinutes().p50());
  }

  /**
   * Whether a likely time has moved far enough to be told: by over 5 min and over 3 %.
   *
   * @param fromMinutes as it was, minutes after mixing; infinite when never
   * @param toMinutes as it is now
   */
  public static boolean counts(double fromMinutes, double toMinutes) {
    if (fromMinutes == toMinutes) {
      return false;
    }
    double by = Math.abs(toMinutes - fromMinutes);
    return by > LEAST_MINUTES && by > LEAST_PART * Math.min(fromMinutes, toMinutes);
  }

  private static ClockChange change(
      ClockInputs before, ClockInputs after, StageTime then, StageTime now) {
    double from = then.fromMinutes().p50();
    double to = now.fromMinutes().p50();
    String words =
        capital(now.stage().words())
            + " moved "
            + shift(to - from)
            + ": "
            + cause(before, after, then.stage(), Math.min(from, to))
            + ".";
    return new ClockChange(now.stage(), from, to, words);
  }

  private static String shift(double minutes) {
    if (Double.isInfinite(minutes)) {
      return minutes > 0 ? "to once it is warmed" : "within reach again";
    }
    double by = Math.abs(minutes);
    String length = by < 120 ? Words.minutes(by) : Words.number(by / 60, 1) + " h";
    return length + (minutes > 0 ? " later" : " earlier");
  }

  private static String cause(
      ClockInputs before, ClockInputs after, Stage stage, double untilMinutes) {
    List<String> causes = new ArrayList<>();
    boolean cup = StageRow.of(stage).inCup();
    double beforeC = (cup ? before.resin() : before.mold()).meanUntil(untilMinutes);
    double afterC = (cup ? after.resin() : after.mold()).meanUntil(untilMinutes);
    if (Math.abs(afterC - beforeC) >= LEAST_K) {
      causes.add(
          (cup ? "the resin" : "the mold")
              + " is "
              + Words.celsiusDifference(Math.abs(afterC - beforeC))
              + (afterC > beforeC ? " warmer" : " colder")
              + " on average than expected");
    }
    if (!before.belief().equals(after.belief())) {
      causes.add("a gel test or another can changed the material's values");
    }
    if (before.doseByWeightPct() != after.doseByWeightPct()) {
      causes.add(
          "the dose is "
              + Words.percent(after.doseByWeightPct())
              + " instead of "
              + Words.percent(before.doseByWeightPct()));
    }
    if (!before.hardening().learned().equals(after.hardening().learned())) {
      causes.add("what became of a part was recorded");
    } else if (!before.hardening().equals(after.hardening())) {
      causes.add("the can's demold time, the part's thickness or its load was changed");
    }
    if (!before.shape().equals(after.shape())) {
      causes.add("the can's peak time or the part's thickness was changed");
    }
    return causes.isEmpty() ? "the temperature was not as expected" : join(causes);
  }

  private static String join(List<String> causes) {
    return String.join("; ", causes);
  }

  private static String capital(String words) {
    return Character.toUpperCase(words.charAt(0)) + words.substring(1);
  }
}
