package org.layroom.predictor.material;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Pattern;
import org.layroom.predictor.limits.ShopLimits;

/**
 * What a material may say: the ranges outside of which a file is a typing error or another system.
 */
public final class MaterialRules {
  private static final double LEAST_EA = 30;
  private static final double MOST_EA = 100;
  private static final double LEAST_DOSE_EXPONENT = 0.3;
  private static final double MOST_DOSE_EXPONENT = 1.5;
  private static final Pattern ID = Pattern.compile("[a-z0-9-]{1,64}");
  private static final List<String> OTHER_SYSTEMS =
      List.of(
          "vinyl ester",
          "vinylester",
          "vinyl-ester",
          "epoxy",
          "bpo",
          "benzoyl",
          "heat-cured",
          "heat cured");

  private MaterialRules() {}

  /** The nearest activation energy, kJ/mol, that a promoted polyester can have: 30 to 100. */
  public static double nearestEa(double kJPerMol) {
    return Math.max(LEAST_EA, Math.min(MOST_EA, kJPerMol));
  }

  /** The nearest dose exponent that a promoted polyester can have: 0.3 to 1.5. */
  public static double nearestDoseExponent(double exponent) {
    return Math.max(LEAST_DOSE_EXPONENT, Math.min(MOST_DOSE_EXPONENT, exponent));
  }

  static List<MaterialProblem> problems(
      String id,
      String name,
      GelPoint gel,
      List<GelPoint> gelTable,
      OptionalDouble activationEnergyKJPerMol,
      OptionalDouble doseExponent,
      DoseRange dose,
      Optional<TemperatureRange> temperatureC,
      OptionalDouble densityKgPerL,
      OptionalDouble catalystDensityKgPerL,
      OptionalDouble demoldHoursAt20C,
      OptionalDouble styrenePct,
      OptionalDouble peakToGel) {
    List<MaterialProblem> problems = new ArrayList<>();
    id(id).ifPresent(problems::add);
    name(name).ifPresent(problems::add);
    gelPoint("gel", gel, problems);
    for (int row = 0; row < gelTable.size(); row++) {
      gelPoint("gelTable[" + row + "]", gelTable.get(row), problems);
    }
    range(
        "activationEnergyKJPerMol",
        activationEnergyKJPerMol,
        LEAST_EA,
        MOST_EA,
        "kJ/mol",
        problems);
    range("doseExponent", doseExponent, LEAST_DOSE_EXPONENT, MOST_DOSE_EXPONENT, "", problems);
    doseRange(dose, problems);
    temperatureC.ifPresent(range -> temperatureRange(range, problems));
    range("densityKgPerL", densityKgPerL, 0.9, 2.0, "kg/l", problems);
    range("catalystDensityKgPerL", catalystDensityKgPerL, 0.9, 1.3, "kg/l", problems);
    range("demoldHoursAt20C", demoldHoursAt20C, 2, 336, "h", problems);
    range("styrenePct", styrenePct, 0, 70, "%", problems);
    range("peakToGel", peakToGel, 1.05, 4, "", problems);
    return problems;
  }

  static Optional<MaterialProblem> id(String id) {
    if (ID.matcher(id).matches()) {
      return Optional.empty();
    }
    return Optional.of(
        new MaterialProblem(
            "id",
            id,
            "1 to 64 lower-case letters, digits and hyphens",
            "id \"" + id + "\": use 1 to 64 lower-case letters, digits and hyphens."));
  }

  static Optional<MaterialProblem> name(String name) {
    if (name.isBlank() || name.length() > 120) {
      return Optional.of(
          new MaterialProblem(
              "name", name, "1 to 120 characters", "Name: enter 1 to 120 characters."));
    }
    return system("name", name);
  }

  /** A system that the cure model knows nothing about is refused by its name. */
  static Optional<MaterialProblem> system(String field, String words) {
    String lower = words.toLowerCase(Locale.ROOT);
    for (String other : OTHER_SYSTEMS) {
      if (lower.contains(other)) {
        return Optional.of(
            new MaterialProblem(
                field,
                words,
                "cobalt-promoted polyester catalyzed with MEKP",
                field
                    + " \""
                    + words
                    + "\": Layroom handles only cobalt-promoted polyester catalyzed with MEKP."
                    + " For this material, follow the maker's data sheet."));
      }
    }
    return Optional.empty();
  }

  static void gelPoint(String field, GelPoint gel, List<MaterialProblem> problems) {
    range(field + ".minutes", OptionalDouble.of(gel.minutes()), 3, 240, "min", problems);
    range(field + ".temperatureC", OptionalDouble.of(gel.temperatureC()), 5, 40, "°C", problems);
    range(
        field + ".doseByWeightPct",
        OptionalDouble.of(gel.doseByWeightPct()),
        0.5,
        5,
        "% by weight",
        problems);
  }

  private static void doseRange(DoseRange dose, List<MaterialProblem> problems) {
    double lowest = 0.5;
    double highest = ShopLimits.HIGHEST_DOSE_PCT;
    range(
        "doseByWeightPct.min",
        OptionalDouble.of(dose.min()),
        lowest,
        highest,
        "% by weight",
        problems);
    range(
        "doseByWeightPct.max",
        OptionalDouble.of(dose.max()),
        lowest,
        highest,
        "% by weight",
        problems);
  }

  private static void temperatureRange(TemperatureRange range, List<MaterialProblem> problems) {
    range("temperatureC.min", OptionalDouble.of(range.min()), 0, 40, "°C", problems);
    range("temperatureC.max", OptionalDouble.of(range.max()), 0, 60, "°C", problems);
  }

  static void range(
      String field,
      OptionalDouble value,
      double min,
      double max,
      String unit,
      List<MaterialProblem> problems) {
    if (value.isEmpty() || (value.getAsDouble() >= min && value.getAsDouble() <= max)) {
      return;
    }
    String limit = (number(min) + " to " + number(max) + " " + unit).strip();
    String given = number(value.getAsDouble());
    problems.add(
        new MaterialProblem(
            field,
            given,
            limit,
            field
                + ": "
                + (given + " " + unit).strip()
                + " is outside "
                + limit
                + ". Check the data sheet."));
  }

  static String number(double value) {
    return value == Math.rint(value) && Math.abs(value) < 1e9
        ? Long.toString((long) value)
        : Double.toString(value);
  }
}
