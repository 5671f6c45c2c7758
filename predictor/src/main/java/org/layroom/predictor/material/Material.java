package org.layroom.predictor.material;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.hardening.Hardening;

/**
 * A can of unsaturated polyester resin or gel coat, cobalt-promoted and catalyzed with MEKP, as its
 * label and data sheet describe it. What the file leaves out stays empty here; the typical value
 * that stands in for it is chosen by the {@code …OrTypical} methods, in this one place.
 *
 * @param id 1 to 64 lower-case letters, digits and hyphens
 * @param name for people
 * @param kind what it is used for
 * @param gel the gel time that the others are reckoned from; a table's first row when the file
 *     gives a table only
 * @param gelTable further gel times from the data sheet, from which the activation energy and the
 *     dose exponent are fitted; empty when the file has none
 * @param activationEnergyKJPerMol how strongly temperature changes the gel time, 30 to 100 kJ/mol
 * @param doseExponent how strongly the dose changes the gel time, 0.3 to 1.5
 * @param doseByWeightPct the doses the can allows
 * @param temperatureC the temperatures the can allows
 * @param densityKgPerL of the material, 0.9 to 2.0 kg/l
 * @param catalystDensityKgPerL of the catalyst, 0.9 to 1.3 kg/l
 * @param demoldHoursAt20C what the data sheet claims until a part may leave the mold, hours at 20
 *     degC, 2 to 336
 * @param structural whether parts of it carry load
 * @param waxed whether it holds wax, so that nothing bonds to it
 * @param styrenePct styrene content, % of weight, 0 to 70
 * @param peakToGel time of the exotherm peak in a cup over its gel time, as data sheets print both,
 *     1.05 to 4
 */
public record Material(
    String id,
    String name,
    MaterialKind kind,
    GelPoint gel,
    List<GelPoint> gelTable,
    OptionalDouble activationEnergyKJPerMol,
    OptionalDouble doseExponent,
    DoseRange doseByWeightPct,
    Optional<TemperatureRange> temperatureC,
    OptionalDouble densityKgPerL,
    OptionalDouble catalystDensityKgPerL,
    OptionalDouble demoldHoursAt20C,
    boolean structural,
    boolean waxed,
    OptionalDouble styrenePct,
    OptionalDouble peakToGel) {

  /** Typical activation energy of cobalt and MEKP systems, kJ/mol. */
  public static final double TYPICAL_ACTIVATION_ENERGY_KJ_PER_MOL = 54;

  /**
   * Typical dose exponent: middle of a plausible 0.4 to 1.2 (a published table gives 0.55, 0.94).
   */
  public static final double TYPICAL_DOSE_EXPONENT = 0.8;

  /** Density of a common MEKP of 8.8 to 9.0 % active oxygen, kg/l. */
  public static final double TYPICAL_CATALYST_DENSITY_KG_PER_L = 1.18;

  /**
   * @throws IllegalArgumentException when a value makes no sense, with all reasons; {@link
   *     MaterialDraft#build()} gives them one by one
   */
  public Material {
    gelTable = List.copyOf(gelTable);
    List<MaterialProblem> problems =
        MaterialRules.problems(
            id,
            name,
            gel,
            gelTable,
            activationEnergyKJPerMol,
            doseExponent,
            doseByWeightPct,
            temperatureC,
            densityKgPerL,
            catalystDensityKgPerL,
            demoldHoursAt20C,
            styrenePct,
            peakToGel);
    if (!problems.isEmpty()) {
      throw new IllegalArgumentException(InvalidMaterial.inWords(problems));
    }
  }

  /** What the file says, or 54 kJ/mol. */
  public double activationEnergyKJPerMolOrTypical() {
    return activationEnergyKJPerMol.orElse(TYPICAL_ACTIVATION_ENERGY_KJ_PER_MOL);
  }

  /** What the file says, or 0.8. */
  public double doseExponentOrTypical() {
    return doseExponent.orElse(TYPICAL_DOSE_EXPONENT);
  }

  /** What the can says, or 10 to 35 degC, outside of which no number is given for any material. */
  public TemperatureRange temperatureCOrTypical() {
    return temperatureC.orElse(new TemperatureRange(10, 35));
  }

  /** What the can says, or 1.12 kg/l for a resin and 1.25 kg/l for a gel coat or finish coat. */
  public double densityKgPerLOrTypical() {
    return densityKgPerL.orElse(kind == MaterialKind.LAMINATING_RESIN ? 1.12 : 1.25);
  }

  /** What the bottle says, or 1.18 kg/l. Bottles differ from 1.02 to 1.18. */
  public double catalystDensityKgPerLOrTypical() {
    return catalystDensityKgPerL.orElse(TYPICAL_CATALYST_DENSITY_KG_PER_L);
  }

  /** What the can says of demolding: its data sheet's claim, and whether its parts carry load. */
  public Hardening hardening() {
    return Hardening.typical().claiming(demoldHoursAt20C).carryingLoad(structural);
  }
}
