package org.layroom.predictor.calibration;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.cure.Band;
import org.layroom.predictor.cure.ClockInputs;
import org.layroom.predictor.cure.CureClocks;
import org.layroom.predictor.cure.Stage;
import org.layroom.predictor.cure.StageTime;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.hardening.Hardening;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.MaterialDraft;
import org.layroom.predictor.material.MaterialKind;
import org.layroom.testing.Seed;

/**
 * Is the band honest? The truth is drawn from the stated spreads by java.util.Random and the
 * printed formulas, with nothing of the predictor's own; the 80 % band must hold it in 77 to 83 %
 * of the cases, for every stage, before and after one, two and five gel tests; demold in 75 to 85
 * %, because its band takes the gel time at its likely value. Prints the table.
 *
 * <p>A reading is off by 0.8 K of the shop's thermometer, the same each time, and 0.6 K of its own
 * (chosen); a gel test by 10 % of the stick.
 *
 * <p>Of 2,500 cases the share has a standard error of 0.8 %, so that an honest band is outside 3 %
 * once in five thousand. The full form, {@code -Dlayroom.coverage=10000}, has one of 0.4 %. The
 * goals hold as they stand for the usual seed; with another one a share may miss its goal by three
 * of these errors, since that is what chance does to one that just meets it.
 */
class CoverageTest {
  private static final int CASES = Integer.getInteger("layroom.coverage", 2500);
  private static final double R = 8.314462618e-3;

  /** What chance may take from a share, %: nothing with the usual seed. */
  private static final double BY_CHANCE = Seed.usual() ? 0 : 3 * 100 * Math.sqrt(0.8 * 0.2 / CASES);

  /** One shop's can as it truly is. */
  private static final class Truth {
    private final Random random;
    private final double lnRef;
    private final double ea;
    private final double n;
    private final double lnRatio;
    private double offK;
    private double readingK = 0.6;

    Truth(Random random) {
      this.random = random;
      offK = 0.8 * random.nextGaussian();
      lnRef = Math.log(20) + 0.40 * random.nextGaussian();
      ea = Math.max(10, 54 + (78 - 33) / 3.2897 * random.nextGaussian());
      n = 0.8 + (1.2 - 0.4) / 3.2897 * random.nextGaussian();
      lnRatio = Math.log(2) / 2 + Math.log(2) / 3.2897 * random.nextGaussian();
    }

    /** A can that is odd. */
    Truth(Random random, double ea, double n) {
      this.random = random;
      offK = 0.8 * random.nextGaussian();
      lnRef = Math.log(20) + 0.40 * random.nextGaussian();
      this.ea = ea;
      this.n = n;
      lnRatio = Math.log(2) / 2 + Math.log(2) / 3.2897 * random.nextGaussian();
    }

    double rate(double tempC) {
      return Math.exp(-ea / R * (1 / (tempC + 273.15) - 1 / 293.15));
    }

    double gel(double tempC, double dosePct) {
      return Math.exp(lnRef) * Math.pow(1.5 / dosePct, n) / rate(tempC);
    }

    double lognormal(double low, double high, double middle) {
      return middle * Math.exp(Math.log(high / low) / 3.2897 * random.nextGaussian());
    }

    double trueC(double readC) {
      return readC + offK + readingK * random.nextGaussian();
    }

    /** A shop of one thermometer, off by so much in every reading. */
    Truth withOneThermometer(double wrongByK) {
      offK = wrongByK;
      readingK = 0;
      return this;
    }

    double trueDose(double readPct) {
      return readPct * Math.exp(0.05 * random.nextGaussian());
    }

    /** A cup that somebody has watched: what gels within a minute or in days is no gel test. */
    GelTest test() {
      boolean film;
      double readC;
      double readPct;
      double minutes;
      do {
        film = random.nextBoolean();
        readC = 15 + 15 * random.nextDouble();
        readPct = 1 + 1.5 * random.nextDouble();
        minutes =
            gel(trueC(readC), trueDose(readPct))
                * (film ? Math.exp(lnRatio) : 1)
                * Math.exp(0.10 * random.nextGaussian());
      } while (minutes < 1 || minutes > 24 * 60);
      return new GelTest(
          film ? GelTest.Where.THIN_LAYER : GelTest.Where.CUP, readC, readPct, minutes);
    }

    /** Hours at 20 degC per hour: one of the two laws, as likely as the other. */
    double hardening(double tempC) {
      boolean arrhenius = random.nextBoolean();
      double energy = Math.max(10, 55 + 18 * random.nextGaussian());
      double datum = 20 - 714.519 / energy;
      double rate =
          arrhenius
              ? Math.exp(-energy / R * (1 / (tempC + 273.15) - 1 / 293.15))
              : Math.max(0, tempC - datum) / (20 - datum);
      double doubt = Math.max(0, Math.min(1, (random.nextDouble() - 0.8) / 0.1));
      double ramp = Math.max(0, Math.min(1, (tempC - 13) / 2));
      double inTheCold = doubt <= 0.5 ? 1 - 2 * doubt * (1 - ramp) : 2 * (1 - doubt) * ramp;
      return (tempC >= 15 ? 1 : inTheCold) * rate;
    }

    /** Strength: e-fold in 3.4 K below 20 degC, 23.6 kJ/mol above. */
    static double quality(double tempC) {
      return tempC < 20
          ? Math.exp((tempC - 20) / 3.4)
          : Math.exp(-23.6 / R * (1 / (tempC + 273.15) - 1 / 293.15));
    }

    Map<Stage, Double> stages(double cupC, double moldC, double dosePct) {
      Map<Stage, Double> times = new LinkedHashMap<>();
      double cup = gel(cupC, dosePct);
      double mold = gel(moldC, dosePct);
      times.put(Stage.STOP_WETTING_OUT, cup * lognormal(0.6, 0.8, 0.7));
      times.put(Stage.GEL, cup);
      times.put(Stage.FILM_GEL, mold * Math.exp(lnRatio));
      double ratio = Math.max(1.05, lognormal(1.2, 2.6, Math.sqrt(1.2 * 2.6)));
      times.put(Stage.EXOTHERM, mold * ratio);
      times.put(Stage.GREEN_TRIM, mold * Math.exp(lnRatio) * (1 + 0.7 * (ratio - 1)));
      times.put(Stage.READY_TO_LAMINATE, mold * lognormal(3.5, 4.5, 4));
      double hours =
          12 * Math.pow(gel(20, dosePct) / 20, 0.7) * Math.exp(0.70 * random.nextGaussian());
      double demold = 60 * hours / hardening(moldC);
      double load = 60 * 168 * Math.exp(0.5 * random.nextGaussian()) / quality(moldC);
      times.put(Stage.DEMOLD, demold);
      times.put(Stage.FULL_HARDNESS, Math.max(demold, load));
      return times;
    }
  }

  @Test
  void theBandHoldsTheTruthInEightOfTenCases() throws InvalidMaterial {
    Map<Stage, StringBuilder> table = new LinkedHashMap<>();
    List<String> dishonest = new ArrayList<>();
    for (int tests : List.of(0, 1, 2, 5)) {
      count(tests)
          .forEach(
              (stage, inside) -> {
                double pct = 100.0 * inside / CASES;
                table
                    .computeIfAbsent(stage, s -> new StringBuilder("%-18s".formatted(s.id())))
                    .append("%8.1f".formatted(pct));
                double off = (stage == Stage.DEMOLD ? 5 : 3) + BY_CHANCE;
                if (pct < 80 - off || pct > 80 + off) {
                  dishonest.add(stage.id() + " after " + tests + " tests: " + pct + " %");
                }
              });
    }
    System.out.println("Truth inside the 80 % band, % of " + CASES + " cases, by gel tests");
    System.out.println("stage                    0       1       2       5");
    table.values().forEach(System.out::println);
    assertTrue(table.size() == Stage.values().length, "every stage is counted");
    assertTrue(dishonest.isEmpty(), dishonest.toString());
  }

  /** What is not as the predictor assumes. */
  private record Odd(OptionalDouble ea, OptionalDouble n, boolean wrongTest, OptionalDouble offK) {
    static Odd nothing() {
      OptionalDouble none = OptionalDouble.empty();
      return new Odd(none, none, false, none);
    }

    Odd ea(double value) {
      return new Odd(OptionalDouble.of(value), n, wrongTest, offK);
    }

    Odd n(double value) {
      return new Odd(ea, OptionalDouble.of(value), wrongTest, offK);
    }

    Odd oneWrongTest() {
      return new Odd(ea, n, true, offK);
    }

    Odd thermometerOff(double kelvin) {
      return new Odd(ea, n, wrongTest, OptionalDouble.of(kelvin));
    }

    Truth draw(Random random) {
      Truth truth =
          ea.isEmpty() && n.isEmpty()
              ? new Truth(random)
              : new Truth(random, ea.orElse(54), n.orElse(0.8));
      return offK.isPresent() ? truth.withOneThermometer(offK.getAsDouble()) : truth;
    }
  }

  /** How often the band of gel holds the truth, and how wide it is over how wide it need be. */
  private record Held(double pct, double width) {}

  /**
   * Six tests in a shop at 15 to 30 degC, the job at 26 degC and 1.0 %. Cans, tests and
   * thermometers that are not as the predictor assumes: the 80 % band of gel holds 70 % and more of
   * each. A wrong test is off by a factor of 1.6 to 4.5.
   */
  @Test
  void oddCansTestsAndThermometersAreHeldToo() throws InvalidMaterial {
    Map<String, Odd> odd = new LinkedHashMap<>();
    odd.put("as assumed", Odd.nothing());
    odd.put("one wrong test in six", Odd.nothing().oneWrongTest());
    odd.put("70 kJ/mol", Odd.nothing().ea(70));
    odd.put("85 kJ/mol", Odd.nothing().ea(85));
    odd.put("95 kJ/mol", Odd.nothing().ea(95));
    odd.put("dose exponent 0.5", Odd.nothing().n(0.5));
    odd.put("dose exponent 0.3", Odd.nothing().n(0.3));
    odd.put("thermometer 1 K high", Odd.nothing().thermometerOff(-1));
    odd.put("thermometer 1 K low", Odd.nothing().thermometerOff(1));
    Map<String, Held> table = new LinkedHashMap<>();
    for (Map.Entry<String, Odd> entry : odd.entrySet()) {
      table.put(entry.getKey(), held(entry.getValue()));
    }
    table.forEach(
        (name, held) ->
            System.out.printf(
                "%-24s %5.1f %%, width over needed %.2f%n", name, held.pct(), held.width()));
    table.forEach((name, held) -> assertTrue(held.pct() >= 70 - BY_CHANCE, name + ": " + held));
    for (String inside : List.of("as assumed", "one wrong test in six")) {
      Held held = table.getOrDefault(inside, new Held(0, 0));
      assertTrue(held.pct() > 77 - BY_CHANCE && held.pct() < 84 + BY_CHANCE, inside + ": " + held);
    }
    for (String shared : List.of("thermometer 1 K high", "thermometer 1 K low")) {
      assertTrue(table.getOrDefault(shared, new Held(0, 9)).width() <= 1.25, shared);
    }
  }

  private static Held held(Odd odd) throws InvalidMaterial {
    Random random = new Random(Seed.value());
    int inside = 0;
    double[] needed = new double[CASES];
    double wide = 0;
    for (int k = 0; k < CASES; k++) {
      Truth truth = odd.draw(random);
      Calibration calibration = untested();
      int mistaken = odd.wrongTest() ? random.nextInt(6) : -1;
      for (int t = 0; t < 6; t++) {
        GelTest test = truth.test();
        calibration = calibration.with(t == mistaken ? mistaken(test, random) : test);
      }
      double gel = truth.gel(truth.trueC(26), truth.trueDose(1));
      Band band = CureClocks.gelMinutes(inputs(calibration, MaterialKind.GEL_COAT, 1, 26, 26));
      inside += gel >= band.p10() && gel <= band.p90() ? 1 : 0;
      needed[k] = Math.abs(Math.log(gel / band.p50()));
      wide += Math.log(band.p90() / band.p10()) / 2;
    }
    Arrays.sort(needed);
    return new Held(100.0 * inside / CASES, wide / CASES / needed[(int) (0.8 * CASES)]);
  }

  private static GelTest mistaken(GelTest test, Random random) {
    double off = 0.5 + random.nextDouble();
    double minutes = test.minutes() * Math.exp(random.nextBoolean() ? off : -off);
    return new GelTest(
        test.where(),
        test.temperatureC(),
        test.doseByWeightPct(),
        Math.max(1, Math.min(1440, minutes)));
  }

  private static Map<Stage, Integer> count(int tests) throws InvalidMaterial {
    Calibration untested = untested();
    Map<Stage, Integer> inside = new LinkedHashMap<>();
    for (Stage stage : Stage.values()) {
      inside.put(stage, 0);
    }
    Random random = new Random(Seed.value() + tests);
    for (int k = 0; k < CASES; k++) {
      Truth truth = new Truth(random);
      Calibration calibration = untested;
      for (int t = 0; t < tests; t++) {
        calibration = calibration.with(truth.test());
      }
      double readCupC = 16 + 14 * random.nextDouble();
      double readMoldC = 16 + 14 * random.nextDouble();
      double readPct = 1 + 1.5 * random.nextDouble();
      Map<Stage, Double> times =
          truth.stages(truth.trueC(readCupC), truth.trueC(readMoldC), truth.trueDose(readPct));
      // Trim and exotherm are a resin's stages, "ready to laminate" a gel coat's: both are asked.
      Map<Stage, StageTime> stages = new LinkedHashMap<>();
      for (MaterialKind kind : List.of(MaterialKind.GEL_COAT, MaterialKind.LAMINATING_RESIN)) {
        for (StageTime stage : stages(calibration, kind, readPct, readCupC, readMoldC)) {
          stages.put(stage.stage(), stage);
        }
      }
      stages.forEach(
          (stage, band) -> {
            double time = times.getOrDefault(stage, Double.NaN);
            if (time >= band.fromMinutes().p10() && time <= band.fromMinutes().p90()) {
              inside.merge(stage, 1, Integer::sum);
            }
          });
    }
    return inside;
  }

  private static Calibration untested() throws InvalidMaterial {
    return Calibration.of(
        new MaterialDraft()
            .id("gp-resin")
            .name("General-purpose laminating resin")
            .kind("laminating-resin")
            .gel(20, 20, 1.5)
            .doseByWeightPct(1, 2.5)
            .build());
  }

  private static List<StageTime> stages(
      Calibration calibration, MaterialKind kind, double dosePct, double cupC, double moldC) {
    return CureClocks.stages(inputs(calibration, kind, dosePct, cupC, moldC));
  }

  private static ClockInputs inputs(
      Calibration calibration, MaterialKind kind, double dosePct, double cupC, double moldC) {
    return new ClockInputs(
        calibration.belief(),
        kind,
        dosePct,
        0.05,
        TemperatureOutlook.constant(cupC),
        0.6,
        TemperatureOutlook.constant(moldC),
        0.6,
        Hardening.typical());
  }
}
