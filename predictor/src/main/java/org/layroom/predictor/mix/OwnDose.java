package org.layroom.predictor.mix;

import static org.layroom.predictor.limits.Words.celsius;
import static org.layroom.predictor.limits.Words.percent;

import java.util.ArrayList;
import java.util.List;
import org.layroom.predictor.limits.ShopLimits;
import org.layroom.predictor.material.Material;

/**
 * What to know of a cup that was mixed otherwise than Layroom would: it is recorded, and this is
 * said with it. Too little catalyst or cold leaves a part soft, too much makes a hot cup and a weak
 * part (Composites Manufacturing, February 2017: over 2.5 % hurts the cure).
 */
public final class OwnDose {
  private OwnDose() {}

  /**
   * The warnings; empty for a dose inside the can's limits in an ordinary room.
   *
   * @param doseByWeightPct as mixed, % by weight
   * @param resinC of the resin, degC
   * @param moldC of the mold, degC
   */
  public static List<String> warnings(
      Material can, double doseByWeightPct, double resinC, double moldC) {
    List<String> words = new ArrayList<>();
    double least = Math.max(can.doseByWeightPct().min(), ShopLimits.LOWEST_DOSE_PCT);
    double most = Math.min(can.doseByWeightPct().max(), ShopLimits.HIGHEST_DOSE_PCT);
    if (doseByWeightPct < least) {
      words.add(
          percent(doseByWeightPct)
              + " is under "
              + percent(least)
              + ": the part may stay soft. Keep it warm, and test it by hand before you demold.");
    }
    if (doseByWeightPct > most) {
      words.add(
          percent(doseByWeightPct)
              + " is over "
              + percent(most)
              + ": the cup gets hot and gels fast, and the part may stay weak. Put leftover mix"
              + " outdoors in a shallow tray.");
    }
    double coldest = Math.min(resinC, moldC);
    if (coldest < ShopLimits.COLDEST_DOSE_C) {
      words.add(
          "At "
              + celsius(coldest)
              + " it hardens slowly, and not fully until it is warmed. Warm the mold.");
    }
    double hottest = Math.max(resinC, moldC);
    if (hottest > ShopLimits.HOTTEST_C) {
      words.add("At " + celsius(hottest) + " it gels fast and gets hot. Mix small cups.");
    }
    return words;
  }
}
