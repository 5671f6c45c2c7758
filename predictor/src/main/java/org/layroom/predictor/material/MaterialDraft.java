package org.layroom.predictor.material;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A material as a file or a form gives it, field by field, before it is checked. Whatever is not
 * set is missing; {@link #build()} reports everything that is wrong at once.
 */
public final class MaterialDraft {
  private String id = "";
  private String name = "";
  private String kind = "";
  private Optional<double[]> gel = Optional.empty();
  private final List<double[]> gelTable = new ArrayList<>();
  private OptionalDouble activationEnergyKJPerMol = OptionalDouble.empty();
  private OptionalDouble doseExponent = OptionalDouble.empty();
  private Optional<double[]> dose = Optional.empty();
  private Optional<double[]> temperatureC = Optional.empty();
  private OptionalDouble densityKgPerL = OptionalDouble.empty();
  private OptionalDouble catalystDensityKgPerL = OptionalDouble.empty();
  private OptionalDouble demoldHoursAt20C = OptionalDouble.empty();
  private boolean structural;
  private boolean waxed;
  private OptionalDouble styrenePct = OptionalDouble.empty();
  private OptionalDouble peakToGel = OptionalDouble.empty();
  private String system = "";

  /** A short name of lower-case letters, digits and hyphens. */
  public MaterialDraft id(String value) {
    id = value;
    return this;
  }

  /** A name for people. */
  public MaterialDraft name(String value) {
    name = value;
    return this;
  }

  /** {@code laminating-resin}, {@code gel-coat} or {@code finish-coat}. */
  public MaterialDraft kind(String value) {
    kind = value;
    return this;
  }

  /** The resin system in words, where the file names one; other systems are refused. */
  public MaterialDraft system(String value) {
    system = value;
    return this;
  }

  /** Gel time in minutes at a temperature in degC and a dose in % by weight. */
  public MaterialDraft gel(double minutes, double temperatureC, double doseByWeightPct) {
    gel = Optional.of(new double[] {minutes, temperatureC, doseByWeightPct});
    return this;
  }

  /** One row of the data sheet's gel-time table: degC, % by weight, minutes. */
  public MaterialDraft gelRow(double temperatureC, double doseByWeightPct, double gelMinutes) {
    gelTable.add(new double[] {gelMinutes, temperatureC, doseByWeightPct});
    return this;
  }

  /** Activation energy, kJ/mol. */
  public MaterialDraft activationEnergyKJPerMol(double value) {
    activationEnergyKJPerMol = OptionalDouble.of(value);
    return this;
  }

  /** Exponent of the dose in the gel time. */
  public MaterialDraft doseExponent(double value) {
    doseExponent = OptionalDouble.of(value);
    return this;
  }

  /** The can's lowest and highest dose, % by weight. */
  public MaterialDraft doseByWeightPct(double min, double max) {
    dose = Optional.of(new double[] {min, max});
    return this;
  }

  /** The can's coldest and warmest temperature, degC. */
  public MaterialDraft temperatureC(double min, double max) {
    temperatureC = Optional.of(new double[] {min, max});
    return this;
  }

  /** Density of the material, kg/l. */
  public MaterialDraft densityKgPerL(double value) {
    densityKgPerL = OptionalDouble.of(value);
    return this;
  }

  /** Density of the catalyst, kg/l. */
  public MaterialDraft catalystDensityKgPerL(double value) {
    catalystDensityKgPerL = OptionalDouble.of(value);
    return this;
  }

  /** Hours at 20 degC until demold. */
  public MaterialDraft demoldHoursAt20C(double value) {
    demoldHoursAt20C = OptionalDouble.of(value);
    return this;
  }

  /** Whether parts of it carry load. */
  public MaterialDraft structural(boolean value) {
    structural = value;
    return this;
  }

  /** Whether it holds wax. */
  public MaterialDraft waxed(boolean value) {
    waxed = value;
    return this;
  }

  /** Styrene content, % of weight. */
  public MaterialDraft styrenePct(double value) {
    styrenePct = OptionalDouble.of(value);
    return this;
  }

  /** Time of the exotherm peak in a cup over its gel time. */
  public MaterialDraft peakToGel(double value) {
    peakToGel = OptionalDouble.of(value);
    return this;
  }

  /**
   * The material, checked.
   *
   * @throws InvalidMaterial with everything that is wrong
   */
  public Material build() throws InvalidMaterial {
    List<MaterialProblem> problems = new ArrayList<>();
    Optional<MaterialKind> knownKind = MaterialKind.ofId(kind);
    if (knownKind.isEmpty()) {
      problems.add(
          new MaterialProblem(
              "kind",
              kind.isEmpty() ? "missing" : kind,
              "laminating-resin, gel-coat or finish-coat",
              "kind \"" + kind + "\": use laminating-resin, gel-coat or finish-coat."));
    }
    if (!system.isEmpty()) {
      MaterialRules.system("system", system).ifPresent(problems::add);
    }
    List<GelPoint> rows = new ArrayList<>();
    for (int row = 0; row < gelTable.size(); row++) {
      gelPoint("gelTable[" + row + "]", gelTable.get(row), problems).ifPresent(rows::add);
    }
    Optional<GelPoint> point = reference(rows, problems);
    Optional<DoseRange> doses = doses(problems);
    Optional<TemperatureRange> temperatures = temperatures(problems);
    problems.addAll(
        MaterialRules.problems(
            id,
            name,
            point.orElse(new GelPoint(20, 20, 1.5)),
            rows,
            activationEnergyKJPerMol,
            doseExponent,
            doses.orElse(new DoseRange(1, 2)),
            temperatures,
            densityKgPerL,
            catalystDensityKgPerL,
            demoldHoursAt20C,
            styrenePct,
            peakToGel));
    if (!problems.isEmpty()) {
      throw new InvalidMaterial(problems);
    }
    return new Material(
        id,
        name,
        knownKind.orElseThrow(),
        point.orElseThrow(),
        rows,
        activationEnergyKJPerMol,
        doseExponent,
        doses.orElseThrow(),
        temperatures,
        densityKgPerL,
        catalystDensityKgPerL,
        demoldHoursAt20C,
        structural,
        waxed,
        styrenePct,
        peakToGel);
  }

  private Optional<GelPoint> reference(List<GelPoint> rows, List<MaterialProblem> problems) {
    if (gel.isPresent()) {
      return gelPoint("gel", gel.get(), problems);
    }
    if (gelTable.isEmpty()) {
      problems.add(
          new MaterialProblem(
              "gel",
              "missing",
              "minutes, temperatureC and doseByWeightPct",
              "Gel time is missing. Enter the gel time with its temperature and dose, or a"
                  + " table of them (\"gel\")."));
    }
    return rows.stream().findFirst();
  }

  private static Optional<GelPoint> gelPoint(
      String field, double[] values, List<MaterialProblem> problems) {
    try {
      return Optional.of(new GelPoint(values[0], values[1], values[2]));
    } catch (IllegalArgumentException e) {
      problems.add(problem(field, values, e));
      return Optional.empty();
    }
  }

  private Optional<DoseRange> doses(List<MaterialProblem> problems) {
    if (dose.isEmpty()) {
      problems.add(
          new MaterialProblem(
              "doseByWeightPct",
              "missing",
              "min and max, % by weight",
              "Dose limits are missing. Enter the lowest and highest dose that the can allows"
                  + " (\"doseByWeightPct\")."));
      return Optional.empty();
    }
    try {
      return Optional.of(new DoseRange(dose.get()[0], dose.get()[1]));
    } catch (IllegalArgumentException e) {
      problems.add(problem("doseByWeightPct", dose.get(), e));
      return Optional.empty();
    }
  }

  private Optional<TemperatureRange> temperatures(List<MaterialProblem> problems) {
    if (temperatureC.isEmpty()) {
      return Optional.empty();
    }
    try {
      return Optional.of(new TemperatureRange(temperatureC.get()[0], temperatureC.get()[1]));
    } catch (IllegalArgumentException e) {
      problems.add(problem("temperatureC", temperatureC.get(), e));
      return Optional.empty();
    }
  }

  private static MaterialProblem problem(
      String field, double[] values, IllegalArgumentException reason) {
    List<String> given = new ArrayList<>();
    for (double value : values) {
      given.add(MaterialRules.number(value));
    }
    String words = String.valueOf(reason.getMessage());
    return new MaterialProblem(field, String.join(", ", given), words, field + ": " + words + ".");
  }
}
