package org.layroom.predictor.mix;

import org.layroom.predictor.cure.ClockInputs;
import org.layroom.predictor.material.Material;

/** The clocks of a cup as it is laid: its thinnest place and the laminate's own heat. */
public final class PartClocks {
  private PartClocks() {}

  /**
   * What they run on.
   *
   * @param plain what they run on besides
   * @param moldC temperature of the mold when it was mixed, degC
   */
  public static ClockInputs of(ClockInputs plain, Material can, Pass pass, double moldC) {
    HeatRules rules = new HeatRules(can, pass, plain.belief(), plain.doseByWeightPct(), moldC);
    return plain.laid(rules.thinnestMm(), rules.ownHeat());
  }
}
