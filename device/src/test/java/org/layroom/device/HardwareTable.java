package org.layroom.device;

import static java.util.Map.entry;
import static java.util.Objects.requireNonNull;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.ToDoubleFunction;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The arithmetic of the hardware notes: Ohm's law, resistors in parallel and the charge of a
 * capacitor, as any textbook of electricity has them; the rise time of NXP UM10204 section 7.1; the
 * humidity above a salt of Wexler and Seinfeld 1991. One entry for each row of the tables, which
 * name inputs and units.
 */
final class HardwareTable {
  private static final Pattern ID = Pattern.compile("[A-Z]\\d{1,2}");
  private static final Pattern INPUT =
      Pattern.compile("([A-Za-z][A-Za-z0-9]*) (-?[0-9.]+) ?(\\S*)");
  private static final Pattern RESULT = Pattern.compile("(-?[0-9]+(?:\\.([0-9]+))?) ?(\\S*)");

  private static final Map<String, Double> UNITS =
      Map.ofEntries(
          entry("V", 1.0),
          entry("mV", 1e-3),
          entry("mA", 1e-3),
          entry("W", 1.0),
          entry("Wh", 3600.0),
          entry("Ω", 1.0),
          entry("kΩ", 1e3),
          entry("MΩ", 1e6),
          entry("Ω/m", 1.0),
          entry("pF", 1e-12),
          entry("pF/m", 1e-12),
          entry("ns", 1e-9),
          entry("µs", 1e-6),
          entry("h", 3600.0),
          entry("kHz", 1e3),
          entry("m", 1.0),
          entry("mcd", 1e-3),
          entry("dB", 1.0),
          entry("K", 1.0),
          entry("°C", 1.0),
          entry("%", 0.01),
          entry("ppm", 1e-6),
          entry("×", 1.0));

  private static final Map<String, ToDoubleFunction<Row>> ROWS =
      Map.ofEntries(
          entry("I1", row -> (row.input("Vdd") - row.input("Vol")) / row.input("Iol")),
          entry("I2", Row::pullUp),
          entry("I3", HardwareTable::sinking),
          entry("I4", HardwareTable::sinking),
          entry("I5", HardwareTable::sinking),
          entry("I6", HardwareTable::sinking),
          entry("I7", HardwareTable::sinking),
          entry("I8", HardwareTable::sinking),
          entry("I9", row -> row.input("length") * row.input("cable") + ends(row)),
          entry(
              "I10",
              row ->
                  Math.log(0.7 / 0.3)
                      * row.pullUp()
                      * (row.input("length") * row.input("cable") + ends(row))),
          entry("I11", row -> row.input("rise") * 2 * row.input("clock")),
          entry("I12", row -> (row.input("most") - ends(row)) / row.input("cable")),
          entry("K1", Row::sum),
          entry("K2", Row::sum),
          entry("K3", Row::sum),
          entry("S1", HardwareTable::allOnTheSupply),
          entry("S2", row -> row.input("current") * 2 * row.input("length") * row.input("wire")),
          entry("S3", HardwareTable::sinking),
          entry("S4", HardwareTable::sinking),
          entry("S5", HardwareTable::oneWireRise),
          entry("S6", row -> row.input("battery") * row.input("useful") / row.input("Pi")),
          entry("L1", HardwareTable::ledCurrent),
          entry("L2", HardwareTable::ledCurrent),
          entry("L3", row -> row.input("lamps") * ledCurrent(row)),
          entry("L4", row -> row.input("rated") * ledCurrent(row) / row.input("at")),
          entry("A1", HardwareTable::arrayInput),
          entry("A2", HardwareTable::arrayInput),
          entry("A3", row -> row.input("inputs") * arrayInput(row)),
          entry("A4", row -> row.input("outputs") * row.input("current") * row.input("Vce")),
          entry(
              "A5",
              row ->
                  row.input("supply")
                      - row.input("Vce")
                      - row.input("current") * 2 * row.input("length") * row.input("wire")),
          entry(
              "A6",
              row ->
                  row.input("lamp") * row.input("lamps")
                      + row.input("sounder")
                      + row.input("outlet")),
          entry("A7", HardwareTable::atTheEar),
          entry("A8", row -> atTheEar(row) - row.input("fan")),
          entry("D1", HardwareTable::divided),
          entry("D2", HardwareTable::divided),
          entry("D3", row -> source(row) / (source(row) + row.input("input"))),
          entry("D4", row -> row.input("out") / (row.input("Ra") + row.input("Rb"))),
          entry("D5", row -> row.input("ppm") * (row.input("heavier") - 1)),
          entry("D6", row -> row.input("limit") * row.input("part")),
          entry("H1", HardwareTable::aboveSalt),
          entry("H2", HardwareTable::aboveSalt),
          entry("H3", HardwareTable::aboveSalt),
          entry("H4", HardwareTable::aboveSalt),
          entry("O1", row -> row.input("reference") - row.input("sensor")),
          entry("O2", row -> row.input("reference") - row.input("sensor")),
          entry(
              "O3",
              row ->
                  (row.input("high")
                          - row.input("highRead")
                          + row.input("low")
                          - row.input("lowRead"))
                      / 2),
          entry(
              "O4",
              row ->
                  (row.input("ref1")
                          - row.input("sensor1")
                          + row.input("ref2")
                          - row.input("sensor2"))
                      / 2));

  private HardwareTable() {}

  static Set<String> ids() {
    return new TreeSet<>(ROWS.keySet());
  }

  static boolean isRow(List<String> cells) {
    return ID.matcher(cells.get(0)).matches();
  }

  private static double sinking(Row row) {
    return (row.input("Vdd") - row.input("Vol")) / row.pullUp();
  }

  private static double ends(Row row) {
    return row.input("pi") + row.input("boards") * row.input("board") + row.input("joints");
  }

  private static double allOnTheSupply(Row row) {
    double chips =
        row.input("SGP40")
            + row.input("SHT4x")
            + row.input("BME280")
            + row.input("thermometers") * row.input("DS18B20")
            + row.input("ADS1115")
            + row.input("MLX90614");
    double oneWire = row.input("Vdd") / row.input("Rw");
    double bus = row.input("lines") * row.input("Vdd") / row.parallel(Set.of("Rw"));
    return chips + bus + oneWire;
  }

  private static double oneWireRise(Row row) {
    double farads =
        row.input("length") * row.input("cable") + row.input("thermometers") * row.input("chip");
    return row.input("Rw")
        * farads
        * Math.log(row.input("Vdd") / (row.input("Vdd") - row.input("Vih")));
  }

  private static double ledCurrent(Row row) {
    return (row.input("Vdd") - row.input("Vf")) / row.input("R");
  }

  private static double arrayInput(Row row) {
    return (row.input("Vdd") - row.input("Vbe")) / row.input("Rb");
  }

  private static double atTheEar(Row row) {
    return row.input("at1m") - 20 * Math.log10(row.input("distance"));
  }

  private static double divided(Row row) {
    return row.input("out") * row.input("Rb") / (row.input("Ra") + row.input("Rb"));
  }

  private static double source(Row row) {
    return row.input("Ra") * row.input("Rb") / (row.input("Ra") + row.input("Rb"));
  }

  private static double aboveSalt(Row row) {
    return row.input("A") * Math.exp(row.input("B") / (273.15 + row.input("t")));
  }

  /**
   * One row.
   *
   * @param inputs by name, in volts, amperes, ohms, farads, seconds, meters
   * @param result as printed
   * @param limit as printed; a dash for none
   */
  record Row(String id, Map<String, Double> inputs, String result, String limit, String sources) {
    static Row of(List<String> cells) {
      Map<String, Double> inputs = new TreeMap<>();
      for (String text : cells.get(2).split("; ", -1)) {
        Matcher input = INPUT.matcher(text);
        assertTrue(input.matches(), cells.get(0) + ": " + text);
        inputs.put(
            input.group(1), Double.parseDouble(input.group(2)) * unit(cells, input.group(3)));
      }
      return new Row(cells.get(0), inputs, cells.get(4), cells.get(5), cells.get(6));
    }

    private static double unit(List<String> cells, String name) {
      assertTrue(UNITS.containsKey(name), cells.get(0) + ": unknown unit " + name);
      return UNITS.getOrDefault(name, Double.NaN);
    }

    double input(String name) {
      assertTrue(inputs.containsKey(name), id + " has no input " + name);
      return inputs.getOrDefault(name, Double.NaN);
    }

    double sum() {
      return inputs.values().stream().mapToDouble(Double::doubleValue).sum();
    }

    /** All resistors of the row between the line and the supply. */
    double pullUp() {
      return parallel(new HashSet<>());
    }

    double parallel(Set<String> without) {
      double siemens = 0;
      for (Map.Entry<String, Double> input : inputs.entrySet()) {
        if (input.getKey().startsWith("R") && !without.contains(input.getKey())) {
          siemens += 1 / input.getValue();
        }
      }
      assertTrue(siemens > 0, id + " has no resistor");
      return 1 / siemens;
    }

    /** The result to its last digit, the limit on the side that it says, and a source. */
    void check() {
      assertTrue(ROWS.containsKey(id), id + " is recomputed nowhere");
      double computed = requireNonNull(ROWS.get(id)).applyAsDouble(this);
      Matcher printed = RESULT.matcher(result);
      assertTrue(printed.matches(), id + ": " + result);
      double unit = unit(List.of(id), printed.group(3));
      int digits = printed.group(2) == null ? 0 : printed.group(2).length();
      assertEquals(
          Double.parseDouble(printed.group(1)),
          computed / unit,
          0.5 * Math.pow(10, -digits) * 1.000001,
          id);
      assertFalse(sources.replace("|", "").isBlank(), id + " names no source");
      checkLimit(computed);
    }

    private void checkLimit(double computed) {
      if (limit.equals("–")) {
        return;
      }
      Matcher bound = Pattern.compile("(≤|≥|over) (\\S+) (\\S+)").matcher(limit);
      assertTrue(bound.matches(), id + ": " + limit);
      double value = Double.parseDouble(bound.group(2)) * unit(List.of(id), bound.group(3));
      double slack = 1e-9 * value;
      boolean kept =
          switch (bound.group(1)) {
            case "≤" -> Math.abs(computed) <= value + slack;
            case "≥" -> computed >= value - slack;
            default -> computed > value;
          };
      assertTrue(kept, id + ": " + computed + " against " + limit);
    }
  }
}
