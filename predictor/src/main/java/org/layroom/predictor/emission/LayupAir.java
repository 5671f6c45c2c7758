package org.layroom.predictor.emission;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.exposure.Styrene;
import org.layroom.predictor.limits.RangeCheck;

/**
 * The air of a layup before it is started: emission by published rules into a well-mixed box,
 * solved exactly stretch by stretch, and the richer air near the work. It never refuses a high
 * result.
 *
 * @param emittedGrams styrene given off in all, g
 * @param room the room's air
 * @param breathingZone the air near the work: the room's plus {@code G / beta}
 * @param shareOfExplosiveLimit the room's peak as a share of the lower explosive limit, 0.9 %
 * @param airNeededM3PerH air flow that keeps the room at the chosen eight-hour limit in the
 *     strongest stretch, {@code K G / C}, m3/h
 * @param airNeededPerHour the same as air changes per hour
 * @param clearedAfter when the room is back at the eight-hour limit for good, from the start: zero
 *     where it never rises above; empty where no air is changed. Resin that has not gelled still
 *     gives off vapor, so it holds only once it has
 * @param saturationPpm the most that air of this temperature can hold
 * @param respirator which respirator the peak near the work calls for
 * @param alternatives where no cartridge covers it: what a mask would cover; else empty
 * @param cautions what is beyond the model or dangerous, in words; may be empty
 * @param changes what would lower the figures, in words, the most useful first
 */
public record LayupAir(
    double emittedGrams,
    PredictedAir room,
    PredictedAir breathingZone,
    double shareOfExplosiveLimit,
    double airNeededM3PerH,
    double airNeededPerHour,
    Optional<Duration> clearedAfter,
    double saturationPpm,
    Respirator respirator,
    List<Alternative> alternatives,
    List<String> cautions,
    List<String> changes) {
  /** To be shown with every prediction. */
  public static final String UNCERTAINTY =
      "Estimate: the real figure can be half or twice this, or further off.";

  /** Beta where nothing else is known, m3/min (from memory; 3 to 30 are told). */
  public static final double USUAL_NEAR_M3_PER_MIN = 5;

  /** Air changes outdoors, per hour, and the air flow around work there (this project's choice). */
  private static final double OUTDOORS_PER_HOUR = 300;

  private static final double OUTDOORS_NEAR_M3_PER_MIN = 30;

  /**
   * Another way to do it, and the mask that covers it.
   *
   * @param id {@code outdoors} or {@code less-resin}
   * @param resinKg how much of it at a time, kg
   * @param peakPpm the likely peak near the work
   */
  public record Alternative(
      String id, String words, double resinKg, double peakPpm, Respirator respirator) {}

  public LayupAir {
    alternatives = List.copyOf(alternatives);
    cautions = List.copyOf(cautions);
    changes = List.copyOf(changes);
  }

  /** The air of a layup, with the usual air flow around the work. */
  public static LayupAir predict(VentilatedRoom room, Layup layup, ExposureLimit limit) {
    return predict(room, layup, limit, USUAL_NEAR_M3_PER_MIN);
  }

  /**
   * The air of a layup.
   *
   * @param nearM3PerMin beta, the air flow around the work, 1 to 100 m3/min
   */
  public static LayupAir predict(
      VentilatedRoom room, Layup layup, ExposureLimit limit, double nearM3PerMin) {
    RangeCheck.within("air flow around the work", nearM3PerMin, 1, 100, "m3/min");
    double nearM3PerH = 60 * nearM3PerMin;
    List<BoxModel.Stretch> stretches = stretches(layup);
    BoxModel far = course(room, stretches, Double.POSITIVE_INFINITY);
    PredictedAir roomAir = PredictedAir.of(far);
    PredictedAir nearAir = PredictedAir.of(course(room, stretches, nearM3PerH));
    double needed =
        airNeededM3PerH(strongest(stretches), limit.eightHourPpm(), room.mixing(), room.airC());
    OptionalDouble cleared = far.clearedHours(limit.eightHourPpm());
    LayupAdvice advice = new LayupAdvice(room, layup, limit, roomAir, nearAir, needed);
    return new LayupAir(
        layup.emittedGrams(),
        roomAir,
        nearAir,
        roomAir.peakPpm() / Styrene.LOWER_EXPLOSIVE_LIMIT_PPM,
        needed,
        needed / room.volumeM3(),
        cleared.isPresent()
            ? Optional.of(PredictedAir.hours(cleared.getAsDouble()))
            : Optional.empty(),
        Styrene.saturationPpm(room.airC()),
        advice.respirator(),
        alternatives(room, layup, limit, nearAir.peakPpm()),
        advice.cautions(),
        advice.changes());
  }

  /** Whether supplied air is a way: not where a tenth of the explosive limit is predicted. */
  public boolean suppliedAirOffered() {
    return breathingZone.peakPpm() < Styrene.TENTH_OF_EXPLOSIVE_LIMIT_PPM;
  }

  private static List<Alternative> alternatives(
      VentilatedRoom room, Layup layup, ExposureLimit limit, double peakPpm) {
    if (!Respirator.covering(peakPpm, limit).doseBehindChoice()) {
      return List.of();
    }
    VentilatedRoom open = room.with(AirChanges.given(OUTDOORS_PER_HOUR));
    double outdoors =
        PredictedAir.of(course(open, stretches(layup), 60 * OUTDOORS_NEAR_M3_PER_MIN)).peakPpm();
    double most = Respirator.HALF_MASK.coversToPpm(limit);
    double kg = Math.floor(100 * layup.resin().kg() * most / peakPpm) / 100;
    List<Alternative> found = new ArrayList<>();
    found.add(
        new Alternative(
            "outdoors",
            "Work outdoors.",
            layup.resin().kg(),
            outdoors,
            Respirator.covering(outdoors, limit)));
    if (kg > 0) {
      double share = kg / layup.resin().kg();
      found.add(
          new Alternative(
              "less-resin",
              String.format(
                  Locale.ROOT,
                  "Work %.2f kg at a time, and air until the vapor is low between.",
                  kg),
              kg,
              share * peakPpm,
              Respirator.covering(share * peakPpm, limit)));
    }
    return found.stream().filter(one -> !one.respirator().doseBehindChoice()).toList();
  }

  /**
   * The air flow that holds a source at a level, {@code Q = K G / C}, m3/h.
   *
   * @param gramsPerHour the source, zero or more
   * @param ppm the level, above 0
   * @param mixing K, 1 to 10
   * @param airC -20 to 60 degC
   */
  public static double airNeededM3PerH(
      double gramsPerHour, double ppm, double mixing, double airC) {
    RangeCheck.positive("level", ppm, 1e6, "ppm");
    RangeCheck.within("mixing", mixing, 1, 10, "");
    RangeCheck.within("emission", gramsPerHour, 0, 1e9, "g/h");
    return mixing * 1000 * gramsPerHour / (ppm * Styrene.milligramsPerM3InOnePpm(airC));
  }

  private static BoxModel course(
      VentilatedRoom room, List<BoxModel.Stretch> stretches, double nearM3PerH) {
    return new BoxModel(
        room.volumeM3(),
        room.effectivePerHour(),
        Styrene.milligramsPerM3InOnePpm(room.airC()),
        0,
        nearM3PerH,
        stretches);
  }

  /** While it is worked, then until it gels; all in the first where it gels as the work ends. */
  static List<BoxModel.Stretch> stretches(Layup layup) {
    double worked = layup.workingTime().toMillis() / 3_600_000.0;
    double gelling = layup.gelTime().minus(layup.workingTime()).toMillis() / 3_600_000.0;
    double grams = layup.emittedGrams();
    if (gelling == 0) {
      return List.of(new BoxModel.Stretch(worked, grams / worked));
    }
    double first = Layup.SHARE_WHILE_WORKED * grams;
    return List.of(
        new BoxModel.Stretch(worked, first / worked),
        new BoxModel.Stretch(gelling, (grams - first) / gelling));
  }

  private static double strongest(List<BoxModel.Stretch> stretches) {
    return stretches.stream().mapToDouble(BoxModel.Stretch::gramsPerHour).max().orElse(0);
  }
}
