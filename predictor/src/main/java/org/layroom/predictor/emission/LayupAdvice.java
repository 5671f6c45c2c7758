package org.layroom.predictor.emission;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.exposure.Styrene;

/** What a predicted layup calls for, in words: dangers first, then what would lower the figures. */
final class LayupAdvice {
  /** From here on dilution is not the way (this project's own choice). */
  private static final double MOST_CHANGES_PER_HOUR = 30;

  /** Rolling gives off up to this, mg/s per m2 of wet area (Saamanen et al. 1991). */
  private static final double FASTEST_MG_PER_S_M2 = 79;

  private static final double TENTH_OF_LIMIT = 0.1;

  /** A resin with less styrene, for comparison, % (40 CFR 63 Subpart VVVV's own comparison). */
  private static final double LOW_STYRENE_PCT = 35;

  private final VentilatedRoom room;
  private final Layup layup;
  private final ExposureLimit limit;
  private final PredictedAir roomAir;
  private final PredictedAir nearAir;
  private final double neededM3PerH;

  LayupAdvice(
      VentilatedRoom room,
      Layup layup,
      ExposureLimit limit,
      PredictedAir roomAir,
      PredictedAir nearAir,
      double neededM3PerH) {
    this.room = room;
    this.layup = layup;
    this.limit = limit;
    this.roomAir = roomAir;
    this.nearAir = nearAir;
    this.neededM3PerH = neededM3PerH;
  }

  List<String> cautions() {
    List<String> words = new ArrayList<>();
    double explosive = nearAir.peakPpm() / Styrene.LOWER_EXPLOSIVE_LIMIT_PPM;
    if (explosive >= TENTH_OF_LIMIT) {
      words.add(
          "Fire danger: up to %s %% of the explosive limit is predicted near the work. Do not do it this way."
              .formatted(number(100 * explosive)));
    }
    if (roomAir.peakPpm() > Styrene.saturationPpm(room.airC())) {
      words.add(
          "The estimate is more than air at this temperature can hold (%s ppm). Expect saturated vapor."
              .formatted(number(Styrene.saturationPpm(room.airC()))));
    }
    if (layup.areaM2().isPresent() && rateMgPerS() > fastest(layup.areaM2().getAsDouble())) {
      words.add(
          "The predicted emission (%s mg/s) is higher than measured from %s m2 of wet laminate (%s mg/s). Check amount, area and working time."
              .formatted(
                  number(rateMgPerS()),
                  number(layup.areaM2().getAsDouble()),
                  number(fastest(layup.areaM2().getAsDouble()))));
    }
    if (room.airChanges().perHour() == 0) {
      words.add("There is no ventilation: the vapor stays until you air the room.");
    }
    return words;
  }

  List<String> changes() {
    List<String> words = new ArrayList<>();
    double flow = room.volumeM3() * room.airChanges().perHour();
    boolean beyondDilution = neededM3PerH / room.volumeM3() > MOST_CHANGES_PER_HOUR;
    if (neededM3PerH > flow && !beyondDilution) {
      words.add(
          "A fan that actually moves %s m3/h (now %s) would hold the room at %s ppm while you work."
              .formatted(number(neededM3PerH), number(flow), number(limit.eightHourPpm())));
    }
    if (neededM3PerH > flow && beyondDilution) {
      words.add(
          "Ventilation alone is not enough (%s air changes per hour would be needed). Extract air at the work, do less area at a time, and wear a respirator."
              .formatted(number(neededM3PerH / room.volumeM3())));
    }
    if (nearAir.max15MinPpm() > limit.shortTermPpm()) {
      double share = limit.shortTermPpm() / nearAir.max15MinPpm();
      words.add(
          "Do less area at a time: about %s kg of resin in the same time would keep 15 min near the work at the short-term limit of %s ppm."
              .formatted(number(share * layup.resin().kg()), number(limit.shortTermPpm())));
    }
    if (layup.resin().styrenePct() > LOW_STYRENE_PCT && overLimit()) {
      Layup.Batch low = new Layup.Batch(layup.resin().kg(), LOW_STYRENE_PCT, layup.resin().rule());
      words.add(
          "Use a low-styrene resin: at %s %% it gives off about %s g instead of %s g."
              .formatted(
                  number(LOW_STYRENE_PCT),
                  number(layup.warmth() * low.emittedGrams()),
                  number(layup.warmth() * layup.resin().emittedGrams())));
    }
    if (overLimit() || respirator().doseBehindChoice()) {
      words.add(respirator().instruction());
    }
    return words;
  }

  Respirator respirator() {
    return Respirator.covering(nearAir.peakPpm(), limit);
  }

  private boolean overLimit() {
    return nearAir.max15MinPpm() > limit.shortTermPpm()
        || nearAir.twa8hPpm() > limit.eightHourPpm();
  }

  private double rateMgPerS() {
    return 1000 * LayupAir.stretches(layup).get(0).gramsPerHour() / 3600;
  }

  private static double fastest(double areaM2) {
    return FASTEST_MG_PER_S_M2 * areaM2;
  }

  /** Two figures that count: more would pretend to be a measurement. */
  private static String number(double value) {
    if (value == 0) {
      return "0";
    }
    double step = StrictMath.pow(10, Math.floor(StrictMath.log10(value)) - 1);
    double rounded = Math.rint(value / step) * step;
    return step >= 1
        ? "%.0f".formatted(rounded)
        : String.format(Locale.ROOT, rounded >= 1 ? "%.1f" : "%.2f", rounded);
  }
}
