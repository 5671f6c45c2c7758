package org.layroom.predictor.cure;

import java.util.ArrayList;
import java.util.List;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.limits.ShopLimits;
import org.layroom.predictor.limits.Warning;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.material.DoseRange;
import org.layroom.predictor.material.Material;

/** Answers for a temperature that was recorded: any record is interpolated, none is refused. */
public final class CureRecord {
  private static final double LONGEST_GAP_MINUTES = 120;

  private CureRecord() {}

  /**
   * What a recorded temperature amounts to.
   *
   * @param material the can
   * @param belief what is believed about it, from its data sheet and gel tests
   * @param doseByWeightPct the dose as mixed, % by weight, above 0
   * @param readings at least two, times from mixing in rising order, straight lines between them
   */
  public static CureAnswer answer(
      Material material,
      MaterialPosterior belief,
      double doseByWeightPct,
      List<TemperaturePoint> readings) {
    ArrheniusRate law = new ArrheniusRate(belief.likelyEa(), CureFigures.HOURS_REFERENCE_C);
    double datumC = law.tangentDatumC();
    List<Refusal> refused = refusals(doseByWeightPct, readings);
    if (!refused.isEmpty()) {
      return new CureAnswer(refused, List.of(), 0, 0, 0, datumC, List.of());
    }
    TemperaturePath path = TemperaturePath.of(readings);
    double end = path.endMinutes();
    TemperatureOutlook outlook = TemperatureOutlook.of(path);
    ClockInputs inputs = ClockInputs.forJob(material, belief, doseByWeightPct, outlook, outlook);
    RateLaw degrees = DegreeHourRate.degreesAbove(datumC);
    RateLaw counted =
        material.structural() ? new ColdHourRate(degrees, 1) : ColdHourRate.ramp(degrees);
    return new CureAnswer(
        List.of(),
        warnings(material, doseByWeightPct, readings),
        end,
        RateIntegral.until(path, law, end) / 60,
        RateIntegral.until(path, counted, end) / 60,
        datumC,
        CureClocks.stages(inputs).stream().map(stage -> stage.cutAfter(end)).toList());
  }

  private static List<Refusal> refusals(double dosePct, List<TemperaturePoint> readings) {
    List<Refusal> refused = new ArrayList<>();
    if (!(dosePct > 0 && dosePct <= 10)) {
      refused.add(
          new Refusal(
              "doseByWeightPct",
              Words.percent(dosePct),
              "above 0 % and at most 10 %",
              "Dose " + Words.percent(dosePct) + ": give the dose as mixed, in % by weight."));
    }
    if (readings.size() < 2) {
      refused.add(
          new Refusal(
              "temperature",
              readings.size() + " readings",
              "at least 2",
              "A record needs at least two readings."));
    }
    for (int i = 1; i < readings.size(); i++) {
      if (readings.get(i).minutes() < readings.get(i - 1).minutes()) {
        refused.add(
            new Refusal(
                "time",
                "reading " + (i + 1),
                "rising times",
                "Reading "
                    + (i + 1)
                    + " is not later than the one before it. Sort the readings"
                    + " by time."));
        break;
      }
    }
    return refused;
  }

  private static List<Warning> warnings(
      Material material, double dosePct, List<TemperaturePoint> readings) {
    List<Warning> warnings = new ArrayList<>();
    DoseRange can = material.doseByWeightPct();
    if (!can.contains(dosePct)) {
      warnings.add(
          new Warning(
              "doseByWeightPct",
              Words.percent(dosePct),
              Words.plain(can.min()) + " to " + Words.percent(can.max()),
              "Dose "
                  + Words.percent(dosePct)
                  + " is outside the can's limits. It may not harden; test it."));
    }
    double coldest = readings.stream().mapToDouble(TemperaturePoint::temperatureC).min().orElse(99);
    if (coldest < ColdHourRate.FULL_C) {
      warnings.add(
          new Warning(
              "temperatureC",
              Words.celsius(coldest),
              Words.celsiusLimit(ColdHourRate.FULL_C),
              "Down to "
                  + Words.celsius(coldest)
                  + ": below "
                  + Words.celsiusLimit(ColdHourRate.FULL_C)
                  + " it hardens slowly and not fully. Warm it."));
    }
    double hottest = readings.stream().mapToDouble(TemperaturePoint::temperatureC).max().orElse(0);
    if (hottest > ShopLimits.HOTTEST_C) {
      warnings.add(
          new Warning(
              "temperatureC",
              Words.celsius(hottest),
              Words.celsiusLimit(ShopLimits.HOTTEST_C),
              "Up to "
                  + Words.celsius(hottest)
                  + ": above "
                  + Words.celsiusLimit(ShopLimits.HOTTEST_C)
                  + " the times are a guess. Keep it cooler."));
    }
    for (int i = 1; i < readings.size(); i++) {
      double gap = readings.get(i).minutes() - readings.get(i - 1).minutes();
      if (gap > LONGEST_GAP_MINUTES) {
        warnings.add(
            new Warning(
                "time",
                Words.minutes(gap),
                Words.minutes(LONGEST_GAP_MINUTES),
                "No reading for "
                    + Words.minutes(gap)
                    + ": the gap was filled with a straight line. Log at least every two hours."));
        break;
      }
    }
    return warnings;
  }
}
