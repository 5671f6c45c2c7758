package org.layroom.predictor.verdict;

import org.layroom.predictor.limits.Words;

/** What the vapor monitor's state means for mixing. A level is never called a styrene value. */
final class AirCheck {
  private static final String ABOUT = "air";

  private AirCheck() {}

  static Reason reason(AirState air) {
    return switch (air.kind()) {
      case OK -> new Reason(ABOUT, Finding.OK, noRise(details(air, "")));
      case VENTILATE ->
          new Reason(
              ABOUT,
              Finding.WAIT,
              "Ventilate: " + details(air, "vapor is rising") + ". Ventilate, then check again.");
      case LEAVE ->
          new Reason(
              ABOUT,
              Finding.NO,
              "Leave the room: "
                  + details(air, "vapor is high")
                  + ". Ventilate from outside. Go back in when this warning ends.");
      case UNKNOWN ->
          new Reason(
              ABOUT,
              Finding.UNKNOWN,
              "Air unknown: "
                  + details(air, "no sensor measures it")
                  + ". Ventilate as if the air were bad, and wear the respirator.");
    };
  }

  private static String noRise(String details) {
    return details.isEmpty() ? "No rise seen." : "No rise seen: " + details + ".";
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
