package org.layroom.predictor.exposure;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.limits.RangeCheck;

/**
 * A workplace limit for styrene in the air. The published ones span tenfold, so the user chooses;
 * none of them is the limit, and none was made for a home shop.
 *
 * @param id a short name for settings, lower case
 * @param setBy who set it, for the screen
 * @param eightHourPpm eight-hour average, ppm
 * @param shortTermPpm the short-term limit, ppm
 * @param ceilingPpm what must never be passed, ppm, where the source has one
 * @param note how the short-term figure is meant, where it is not a mean of 15 min; may be empty
 * @param source where the figures stand
 * @param verified false where the source of one of the two has not been opened by this project (it
 *     is from memory): show it so
 */
public record ExposureLimit(
    String id,
    String setBy,
    double eightHourPpm,
    double shortTermPpm,
    OptionalDouble ceilingPpm,
    String note,
    String source,
    boolean verified) {
  /** To be shown with every limit. */
  public static final String CAUTION =
      "This is a workplace limit. Local rules and the resin's safety data sheet come first.";

  private static final double HIGHEST_PPM = 1000;

  private static final ExposureLimit UNTIL_CHOSEN =
      new ExposureLimit(
          "until-chosen",
          "no one yet: choose your country's",
          20,
          40,
          OptionalDouble.empty(),
          "",
          "this project's own choice until you choose",
          true);

  private static final List<ExposureLimit> TABLE =
      List.of(
          new ExposureLimit(
              "osha",
              "US OSHA",
              100,
              200,
              OptionalDouble.of(200),
              "200 is a ceiling; 600 for at most 5 min in any 3 h",
              "29 CFR 1910.1000 Table Z-2",
              true),
          new ExposureLimit(
              "niosh",
              "US NIOSH (recommended)",
              50,
              100,
              OptionalDouble.empty(),
              "the average is over 10 h; 700 is immediately dangerous to life or health",
              "NIOSH Pocket Guide to Chemical Hazards",
              true),
          new ExposureLimit(
              "cal-osha",
              "California (Cal/OSHA)",
              50,
              100,
              OptionalDouble.of(500),
              "",
              "OSHA chemical sampling page for styrene",
              true),
          new ExposureLimit(
              "acgih-2020",
              "ACGIH (from 2020)",
              10,
              20,
              OptionalDouble.empty(),
              "",
              "ACGIH threshold limit value from 2020, from memory",
              false),
          new ExposureLimit(
              "acgih-1997",
              "ACGIH (1997 to 2019)",
              20,
              40,
              OptionalDouble.empty(),
              "replaced by a lower one in 2020",
              "ACGIH threshold limit value 1997 to 2019",
              true),
          new ExposureLimit(
              "uk",
              "United Kingdom (EH40)",
              100,
              250,
              OptionalDouble.empty(),
              "",
              "HSE, questions and answers for the plastics industry",
              true),
          new ExposureLimit(
              "germany",
              "Germany (TRGS 900)",
              20,
              40,
              OptionalDouble.empty(),
              "86 mg/m3; the factor 2 of the short-term limit is from memory",
              "TRGS 900",
              false),
          new ExposureLimit(
              "sweden",
              "Sweden",
              10,
              20,
              OptionalDouble.empty(),
              "43 mg/m3; the short-term limit is from memory",
              "Karolinska Institutet, Institute of Environmental Medicine",
              false));

  public ExposureLimit {
    RangeCheck.positive("eight-hour limit", eightHourPpm, HIGHEST_PPM, "ppm");
    RangeCheck.positive("short-term limit", shortTermPpm, HIGHEST_PPM, "ppm");
    if (shortTermPpm < eightHourPpm) {
      throw new IllegalArgumentException(
          "short-term limit "
              + shortTermPpm
              + " ppm must not be below the eight-hour limit "
              + eightHourPpm
              + " ppm");
    }
  }

  /** All published limits on offer, as they are shown to be chosen from. */
  public static List<ExposureLimit> table() {
    return TABLE;
  }

  /** A limit of the table by its id. */
  public static Optional<ExposureLimit> byId(String id) {
    return UNTIL_CHOSEN.id().equals(id)
        ? Optional.of(UNTIL_CHOSEN)
        : TABLE.stream().filter(limit -> limit.id().equals(id)).findFirst();
  }

  /**
   * What counts until the user has chosen: 20 and 40 ppm. That these are the ones is this project's
   * own choice.
   */
  public static ExposureLimit untilChosen() {
    return UNTIL_CHOSEN;
  }

  /**
   * A limit of the user's own.
   *
   * @param eightHourPpm above 0, at most 1000 ppm
   * @param shortTermPpm not below the other, at most 1000 ppm
   */
  public static ExposureLimit own(double eightHourPpm, double shortTermPpm) {
    return new ExposureLimit(
        "own", "your own", eightHourPpm, shortTermPpm, OptionalDouble.empty(), "", "entered", true);
  }

  /**
   * A limit of the user's own for the eight-hour average; twice as much for the short term (this
   * project's own choice).
   *
   * @param eightHourPpm above 0, at most 500 ppm
   */
  public static ExposureLimit own(double eightHourPpm) {
    return own(eightHourPpm, 2 * eightHourPpm);
  }
}
