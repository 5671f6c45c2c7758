package org.layroom.predictor.verdict;

import org.layroom.predictor.limits.Words;

/** What the vapor monitor's state means for mixing. A level is never called a styrene value. */
final class AirCheck {
  private static final String ABOUT = "air";

  private AirCheck() {}

  static Reason reason(AirState air) {
    return switch (air.kind()) {
      case OK -> new Reason(ABOUT, Finding.OK, "Aired: " + details(air, "no rise seen") + ".");
      case VENTILATE ->
          new Reason(
              ABOUT,
              Finding.WAIT,
              "Ventilate: " + details(air, "vapor is up") + ". Air the room, then check again.");
      case LEAVE ->
          new Reason(
              ABOUT,
              Finding.NO,
              "Leave the room: "
                  + details(air, "vapor is high")
                  + ". Air it from outside; go back in when this clears.");
      case UNKNOWN ->
          new Reason(
              ABOUT,
              Finding.UNKNOWN,
              "Air unknown: "
                  + details(air, "nothing measures it")
                  + ". Ventilate as if it were bad and wear the respirator.");
    };
  }

  private static String details(AirState air, String otherwise) {
    String words = air.words().strip();
    String why = words.isEmpty() ? otherwise : words;
    if (air.timesCleanAir().isEmpty()) {
      return why;
    }
    String level =
        Words.number(air.timesCleanAir().getAsDouble(), 1)
            + " times clean air, not a styrene measurement";
    return words.isEmpty() ? level : level + "; " + why;
  }
}
