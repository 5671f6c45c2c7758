package org.layroom.predictor.mix;

import java.util.Optional;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.verdict.Verdict;

/**
 * Everything that a dose depends on. Start from {@link #of} and add what is known; then {@link
 * #answer()}.
 *
 * @param material the can
 * @param calibration what its gel tests taught
 * @param amount how much is wanted
 * @param want working time or dose
 * @param temperatures mold and resin
 * @param bottle the catalyst
 * @param pass where the mix goes
 * @param tools syringe, pace and cups
 * @param history what became of earlier parts
 * @param room the mix check of the room, where there is one: its moisture and air count too
 */
public record MixQuestion(
    Material material,
    Calibration calibration,
    Amount amount,
    DoseRequest want,
    MixTemperatures temperatures,
    CatalystBottle bottle,
    Pass pass,
    ShopTools tools,
    PartHistory history,
    Optional<Verdict> room) {

  /**
   * A question about an untested can, for the gel time of its data sheet.
   *
   * @throws InvalidMaterial when the can's table of gel times contradicts itself
   */
  public static MixQuestion of(Material material, Amount amount) throws InvalidMaterial {
    return of(material, Calibration.of(material), amount);
  }

  /** A question about a can with its gel tests, for the gel time of its data sheet. */
  public static MixQuestion of(Material material, Calibration calibration, Amount amount) {
    return new MixQuestion(
        material,
        calibration,
        amount,
        new DoseRequest.SheetGelTime(),
        MixTemperatures.unknown(),
        CatalystBottle.fresh(),
        Pass.notSaid(),
        ShopTools.usual(),
        PartHistory.none(),
        Optional.empty());
  }

  /** With a working time or a dose. */
  public MixQuestion wanting(DoseRequest value) {
    return new MixQuestion(
        material, calibration, amount, value, temperatures, bottle, pass, tools, history, room);
  }

  /** With the temperatures. */
  public MixQuestion at(MixTemperatures value) {
    return new MixQuestion(
        material, calibration, amount, want, value, bottle, pass, tools, history, room);
  }

  /** With the catalyst bottle. */
  public MixQuestion from(CatalystBottle value) {
    return new MixQuestion(
        material, calibration, amount, want, temperatures, value, pass, tools, history, room);
  }

  /** With the place in the layup. */
  public MixQuestion into(Pass value) {
    return new MixQuestion(
        material, calibration, amount, want, temperatures, bottle, value, tools, history, room);
  }

  /** With the shop's tools. */
  public MixQuestion with(ShopTools value) {
    return new MixQuestion(
        material, calibration, amount, want, temperatures, bottle, pass, value, history, room);
  }

  /** With the mix check of the room: a no on moisture or air refuses, a wait is told. */
  public MixQuestion in(Verdict value) {
    return new MixQuestion(
        material,
        calibration,
        amount,
        want,
        temperatures,
        bottle,
        pass,
        tools,
        history,
        Optional.of(value));
  }

  /** With what became of earlier parts. */
  public MixQuestion knowing(PartHistory value) {
    return new MixQuestion(
        material, calibration, amount, want, temperatures, bottle, pass, tools, value, room);
  }

  /** The answer; the same question always gives the same digits. */
  public MixAnswer answer() {
    return new MixPlan(this).answer();
  }
}
