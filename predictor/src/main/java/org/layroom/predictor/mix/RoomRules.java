package org.layroom.predictor.mix;

import static org.layroom.predictor.limits.Words.celsius;
import static org.layroom.predictor.limits.Words.celsiusLimit;

import java.time.Duration;
import java.util.Optional;
import org.layroom.predictor.limits.ShopLimits;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialKind;
import org.layroom.predictor.material.TemperatureRange;
import org.layroom.predictor.verdict.Sentence;
import org.layroom.predictor.verdict.Verdict;

/** The rules on temperatures, bottle and place that come before any dose. */
final class RoomRules {
  private final MixQuestion question;
  private final MixFindings judgement;
  private boolean gelTimeMayBeShown = true;

  RoomRules(MixQuestion question, MixFindings judgement) {
    this.question = question;
    this.judgement = judgement;
  }

  /** Judges everything; false when not even a gel time may be shown. */
  boolean judge() {
    temperatures();
    bottle();
    densities();
    place();
    question.room().ifPresent(this::room);
    return gelTimeMayBeShown;
  }

  private void temperatures() {
    MixTemperatures temperatures = question.temperatures();
    if (temperatures.mold().isEmpty() && temperatures.resin().isEmpty()) {
      refuseAll(
          "moldTemperatureC",
          "missing",
          "a measured temperature",
          "No mold or resin temperature. Measure the mold surface and enter it.");
      return;
    }
    reading("mold", temperatures.mold());
    reading("resin", temperatures.resin());
    if (temperatures.mold().isEmpty() || temperatures.resin().isEmpty()) {
      String missing = temperatures.mold().isEmpty() ? "mold" : "resin";
      String used = temperatures.mold().isEmpty() ? "resin" : "mold";
      judgement.warn(
          missing + "TemperatureC",
          "missing",
          "a measured temperature",
          "No "
              + missing
              + " temperature: the "
              + used
              + " temperature was used, with a wider band. Measure both.");
    }
    temperatures.moldDriftKPerH().ifPresent(this::drift);
  }

  private void drift(double driftKPerH) {
    if (Math.abs(driftKPerH) > ShopLimits.FASTEST_DRIFT_K_PER_H) {
      judgement.warn(
          "moldDriftKPerH",
          Words.number(driftKPerH, 1) + " K/h",
          Words.plain(ShopLimits.FASTEST_DRIFT_K_PER_H) + " K/h",
          "The mold drifts by "
              + Words.number(driftKPerH, 1)
              + " °C per hour, limit "
              + Words.plain(ShopLimits.FASTEST_DRIFT_K_PER_H)
              + " °C per hour. Times are less certain.");
    }
  }

  private void reading(String what, Optional<AgedTemperature> reading) {
    if (reading.isEmpty()) {
      return;
    }
    Optional<Duration> age = reading.get().age();
    if (age.isPresent() && age.get().compareTo(ShopLimits.OLDEST_READING) > 0) {
      refuseAll(
          what + "TemperatureC",
          age.get().toMinutes() + " min old",
          "30 min",
          "The "
              + what
              + " reading is "
              + age.get().toMinutes()
              + " min old; the limit is 30 min. Measure it and enter it.");
      return;
    }
    temperature(what, reading.get().temperatureC());
  }

  private void temperature(String what, double valueC) {
    Material can = question.material();
    TemperatureRange range = can.temperatureCOrTypical();
    String field = what + "TemperatureC";
    if (valueC < ShopLimits.COLDEST_C) {
      refuseAll(field, celsius(valueC), celsiusLimit(ShopLimits.COLDEST_C), cold(what, valueC, 10));
    } else if (valueC > Math.min(ShopLimits.HOTTEST_C, range.max())) {
      double limit = Math.min(ShopLimits.HOTTEST_C, range.max());
      refuseAll(
          field,
          celsius(valueC),
          celsiusLimit(limit),
          "Too hot: "
              + what
              + " "
              + celsius(valueC)
              + ", limit "
              + celsiusLimit(limit)
              + ". Cool it before you mix.");
    } else if (valueC < Math.max(ShopLimits.COLDEST_DOSE_C, range.min())) {
      double limit = Math.max(ShopLimits.COLDEST_DOSE_C, range.min());
      judgement.refuse(field, celsius(valueC), celsiusLimit(limit), cold(what, valueC, limit));
    } else {
      warnings(what, field, valueC, can);
    }
  }

  private static String cold(String what, double valueC, double limitC) {
    return "Too cold: "
        + what
        + " "
        + celsius(valueC)
        + ", limit "
        + celsiusLimit(limitC)
        + ". Warm it before you mix.";
  }

  private void warnings(String what, String field, double valueC, Material can) {
    if (valueC < ShopLimits.COOL_C) {
      judgement.warn(
          field,
          celsius(valueC),
          celsiusLimit(ShopLimits.COOL_C),
          "Cool: "
              + what
              + " "
              + celsius(valueC)
              + "; better at "
              + celsiusLimit(ShopLimits.COOL_C)
              + " or more. It hardens slowly; warm it if you can.");
    }
    if (valueC > ShopLimits.WARM_GEL_COAT_C && can.kind() == MaterialKind.GEL_COAT) {
      judgement.warn(
          field,
          celsius(valueC),
          celsiusLimit(ShopLimits.WARM_GEL_COAT_C),
          "Warm for gel coat: " + what + " " + celsius(valueC) + ", limit 27 °C. Mix small cups.");
    }
    if (valueC >= ShopLimits.STYRENE_FLASH_POINT_C) {
      judgement.warn(
          field,
          celsius(valueC),
          celsiusLimit(ShopLimits.STYRENE_FLASH_POINT_C),
          "Hot: "
              + what
              + " "
              + celsius(valueC)
              + "; from 31 °C a spark can ignite the vapor. No flames or sparks. Mix small cups.");
    }
  }

  private void bottle() {
    CatalystBottle bottle = question.bottle();
    if (bottle.gelTest() == CatalystBottle.Tested.FAILED) {
      judgement.refuse(
          "catalyst",
          "gel test failed",
          "a gel test that gels",
          "The gel test of this catalyst failed. Open a fresh bottle and test it.");
    }
    if (bottleIsDoubtful()) {
      String why =
          bottle.expired() ? "expired" : !bottle.dated() ? "undated" : "open for over 3 months";
      judgement.warn(
          "catalyst",
          why,
          "dated, in date, open 3 months at most",
          "The catalyst is " + why + ", so the band is wider. Make a gel test first.");
    }
  }

  private void densities() {
    Material can = question.material();
    if (can.catalystDensityKgPerL().isEmpty()) {
      judgement.warn(
          "catalystDensityKgPerL",
          "unknown",
          "1.02 to 1.18 kg/l on bottles",
          "The density of the catalyst is not known, so the band is wider. Read the bottle, or"
              + " weigh it.");
    }
    if (can.densityKgPerL().isEmpty() && question.amount() instanceof Amount.Milliliters) {
      judgement.warn(
          "densityKgPerL",
          "unknown",
          "on the can or its data sheet",
          "The density of the resin is not known: "
              + Words.plain(can.densityKgPerLOrTypical())
              + " kg/l was used, with a wider band. Weigh the cup, or read the data sheet.");
    }
  }

  /** Moisture and air; the check's own line on warmth is left to the temperatures above. */
  private void room(Verdict verdict) {
    String margin =
        verdict.dewPointMarginK().isPresent()
            ? Words.celsiusDifference(verdict.dewPointMarginK().getAsDouble())
                + " above the"
                + " dew point"
            : "as entered";
    finding("moisture", margin, "3 °C above the dew point, 80 % humidity", verdict.dry());
    finding("air", "as entered", "aired", verdict.air());
  }

  private void finding(String field, String value, String limit, Sentence sentence) {
    switch (sentence.state()) {
      case NO -> refuseAll(field, value, limit, sentence.words());
      case WAIT -> judgement.warn(field, value, limit, "Wait: " + sentence.words());
      case UNKNOWN -> judgement.warn(field, "unknown", limit, sentence.words());
      case OK, WARN -> {}
    }
  }

  /** Whether the bottle's strength is in doubt. */
  boolean bottleIsDoubtful() {
    CatalystBottle bottle = question.bottle();
    boolean old =
        bottle
            .open()
            .map(open -> open.compareTo(ShopLimits.LONGEST_OPEN_CATALYST) > 0)
            .orElse(false);
    return bottle.expired() || !bottle.dated() || old;
  }

  private void place() {
    Pass pass = question.pass();
    Material can = question.material();
    if (can.waxed()
        && (pass.place() == Pass.Place.IN_MOLD || pass.place() == Pass.Place.BETWEEN_LAYERS)) {
      judgement.refuse(
          "place",
          pass.place() == Pass.Place.IN_MOLD ? "in the mold" : "between layers",
          "last coat only",
          "Waxed: nothing bonds to " + can.name() + ". Use it as the last coat only.");
    } else if (can.waxed()) {
      judgement.warn(
          "place",
          "waxed",
          "last coat only",
          "Waxed: nothing bonds to " + can.name() + ". Use it as the last coat only.");
    }
  }

  private void refuseAll(String field, String value, String limit, String reason) {
    gelTimeMayBeShown = false;
    judgement.refuse(field, value, limit, reason);
  }
}
