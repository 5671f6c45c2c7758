package org.layroom.predictor.calibration;

import java.util.ArrayList;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.layroom.predictor.cure.MaterialPosterior;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialRules;

/**
 * One can with the gel tests made of it. Each test is a normal update of the logarithm of the gel
 * time (a Kalman step over gel time, activation energy, dose exponent and film ratio together), for
 * every way in which some of them may be mistaken ({@link GelTestExplanations}). The likely
 * activation energy moves only after three tests over 5 K or more, the dose exponent after three
 * over a factor of 1.5 in dose; before that what they would have learned goes to the gel time at
 * the tests' own conditions. Immutable.
 */
public final class Calibration {
  private static final int TESTS_FOR_SLOPE = 3;
  private static final double SPAN_FOR_EA_K = 5;
  private static final double SPAN_FOR_DOSE = 1.5;

  /** A test this many standard deviations off is one in two hundred. */
  private static final double SURPRISING = 2.8;

  private static final double Z90 = 1.2815515655446004;

  /** A test elsewhere than at the job is worth it only for a narrower band. */
  private static final double LEAST_GAIN = 1 - 1e-6;

  /** One test in fifty is this far off by chance: ask whether it was taken in time. */
  private static final double TO_BE_ASKED = 2.33;

  private final DataSheet sheet;
  private final List<GelTest> tests;
  private final List<GelTest> beforeDrift;
  private final CanAge age;
  private @Nullable MaterialPosterior learned;

  private Calibration(DataSheet sheet, List<GelTest> tests, List<GelTest> beforeDrift, CanAge age) {
    this.sheet = sheet;
    this.tests = List.copyOf(tests);
    this.beforeDrift = List.copyOf(beforeDrift);
    this.age = age;
  }

  /**
   * A can without tests: its data sheet, or what is typical. With two or more rows of gel times the
   * activation energy and dose exponent are fitted.
   *
   * @throws InvalidMaterial when the rows of its table contradict each other or any sane range
   */
  public static Calibration of(Material material) throws InvalidMaterial {
    return new Calibration(DataSheet.of(material), List.of(), List.of(), CanAge.fresh());
  }

  /**
   * The fit of a material's table, with its residuals to show; empty with fewer than two rows.
   *
   * @throws InvalidMaterial when the rows contradict each other or any sane range
   */
  public static Optional<DataSheetFit> fit(Material material) throws InvalidMaterial {
    return DataSheet.fit(material);
  }

  /** With one more test. */
  public Calibration with(GelTest test) {
    List<GelTest> more = new ArrayList<>(tests);
    more.add(test);
    return new Calibration(sheet, more, beforeDrift, age);
  }

  /** Some time after the newest test; a further test resets it: give the age last. */
  public Calibration aged(CanAge value) {
    Calibration later = new Calibration(sheet, tests, beforeDrift, value);
    later.learned = learned();
    return later;
  }

  /**
   * A person declares that the material has changed: another batch, old catalyst. What the earlier
   * tests taught is set aside, so the band is as wide as without them; the newest test stays when
   * it is the one that showed it.
   *
   * @param keepNewest whether the newest test belongs to the material as it is now
   */
  public Calibration afterDrift(boolean keepNewest) {
    int kept = keepNewest && !tests.isEmpty() ? tests.size() - 1 : tests.size();
    List<GelTest> old = new ArrayList<>(beforeDrift);
    old.addAll(tests.subList(0, kept));
    return new Calibration(sheet, tests.subList(kept, tests.size()), old, age);
  }

  /** The tests that count, oldest first. */
  public List<GelTest> tests() {
    return tests;
  }

  /** The tests that were set aside when drift was declared, oldest first. */
  public List<GelTest> testsBeforeDrift() {
    return beforeDrift;
  }

  /** Words for the page on how sure this can is. */
  public String words() {
    if (tests.isEmpty()) {
      return "typical, not yet tested with your can";
    }
    return tests.size() == 1
        ? "tested once with your can"
        : "tested " + tests.size() + " times with your can";
  }

  /**
   * What is believed after all tests. The temperature law moves only where three tests over five
   * kelvin say so, and never past what is sane for any can.
   */
  public MaterialPosterior belief() {
    return age.of(learned());
  }

  private MaterialPosterior learned() {
    MaterialPosterior known = learned;
    if (known == null) {
      known = belief(tests);
      learned = known;
    }
    return known;
  }

  /**
   * What was believed before any test and after each, oldest first; the last is {@link #belief()}.
   */
  public List<MaterialPosterior> beliefs() {
    List<MaterialPosterior> all = new ArrayList<>();
    for (int count = 0; count <= tests.size(); count++) {
      boolean last = count == tests.size();
      all.add(last ? belief() : age.of(belief(tests.subList(0, count))));
    }
    return all;
  }

  private MaterialPosterior belief(List<GelTest> upTo) {
    MaterialPosterior untested = sheet.prior().belief();
    if (upTo.isEmpty()) {
      return untested;
    }
    MaterialPosterior taught = GelTestExplanations.of(sheet.prior(), upTo).belief();
    double meanC = upTo.stream().mapToDouble(GelTest::temperatureC).average().orElseThrow();
    double meanLnDose =
        upTo.stream()
            .mapToDouble(test -> StrictMath.log(test.doseByWeightPct()))
            .average()
            .orElseThrow();
    double ea = eaMayMove(upTo) ? MaterialRules.nearestEa(taught.likelyEa()) : untested.likelyEa();
    double doseExponent =
        doseMayMove(upTo)
            ? MaterialRules.nearestDoseExponent(taught.likelyDoseExponent())
            : untested.likelyDoseExponent();
    return taught.holding(ea, doseExponent, meanC, StrictMath.exp(meanLnDose));
  }

  private static boolean eaMayMove(List<GelTest> tests) {
    DoubleSummaryStatistics range =
        tests.stream().mapToDouble(GelTest::temperatureC).summaryStatistics();
    return tests.size() >= TESTS_FOR_SLOPE && range.getMax() - range.getMin() >= SPAN_FOR_EA_K;
  }

  private static boolean doseMayMove(List<GelTest> tests) {
    DoubleSummaryStatistics range =
        tests.stream().mapToDouble(GelTest::doseByWeightPct).summaryStatistics();
    return tests.size() >= TESTS_FOR_SLOPE && range.getMax() / range.getMin() >= SPAN_FOR_DOSE;
  }

  /**
   * Which tests do not fit with the others or with any can, and what the data sheet says twice, in
   * words; empty when all fit together. The band is wider for them.
   */
  public Optional<String> contradiction() {
    List<GelTest> doubtful = GelTestExplanations.of(sheet.prior(), tests).doubtful();
    if (doubtful.isEmpty()) {
      return sheet.contradiction();
    }
    String named =
        doubtful.stream()
            .map(
                test ->
                    Words.minutes(test.minutes())
                        + " at "
                        + Words.celsius(test.temperatureC())
                        + " with "
                        + Words.percent(test.doseByWeightPct()))
            .collect(Collectors.joining(", "));
    return Optional.of(
        "Does not fit the other gel tests or the data sheet: "
            + named
            + ". Times are less certain until you test again. Drop a test that was mistaken."
            + sheet.contradiction().map(words -> " " + words).orElse(""));
  }

  /**
   * A gel that no can of this kind is likely to have shown after these tests: one in fifty. Ask
   * whether it was taken in time before it is taken as a test.
   *
   * @param temperatureC of the cup, degC
   * @param doseByWeightPct of the cup, % by weight
   * @param minutes from mixing to gel, zero or more
   * @return the likely gel time, where this one is not
   */
  public OptionalDouble likelyInstead(double temperatureC, double doseByWeightPct, double minutes) {
    MaterialPosterior now = belief();
    double expected = now.likelyGelMinutes(temperatureC, doseByWeightPct);
    double noise = GelTest.sdLn(now.sheetEa(), now.sheetDoseExponent(), temperatureC);
    double spread = StrictMath.hypot(now.sdLnGel(temperatureC, doseByWeightPct, false), noise);
    boolean fits =
        minutes >= GelTest.SHORTEST_MINUTES
            && minutes <= GelTest.LONGEST_MINUTES
            && Math.abs(StrictMath.log(minutes / expected)) <= TO_BE_ASKED * spread;
    return fits ? OptionalDouble.empty() : OptionalDouble.of(expected);
  }

  /** Whether the newest test contradicts the ones before it. */
  public Optional<ContradictingGelTest> drift() {
    if (tests.size() < 2) {
      return Optional.empty();
    }
    GelTest newest = tests.get(tests.size() - 1);
    MaterialPosterior earlier = belief(tests.subList(0, tests.size() - 1));
    double expected = earlier.likelyGelMinutes(newest.temperatureC(), newest.doseByWeightPct());
    if (newest.film()) {
      expected *= earlier.likelyFilmRatio();
    }
    double belief = earlier.sdLnGel(newest.temperatureC(), newest.doseByWeightPct(), newest.film());
    double noise = newest.sdLn(earlier);
    double surprise = StrictMath.log(newest.minutes() / expected);
    if (Math.abs(surprise) <= SURPRISING * StrictMath.sqrt(belief * belief + noise * noise)) {
      return Optional.empty();
    }
    return Optional.of(
        new ContradictingGelTest(
            newest,
            expected,
            "This test gelled in "
                + Words.minutes(newest.minutes())
                + "; the earlier tests predict "
                + Words.minutes(expected)
                + ". Test again. If it repeats, the resin or the catalyst has changed: tap New"
                + " batch."));
  }

  /**
   * The test that would narrow the gel time's band most at the conditions of the next job.
   *
   * @param jobC temperature of the next job, 5 to 40 degC
   * @param jobDosePct dose of the next job, 0.5 to 4 % by weight
   * @param film whether the film on the mold matters more than the cup
   * @param reachableC temperatures at which a test could be made, degC; at least one
   */
  public SuggestedGelTest nextTest(
      double jobC, double jobDosePct, boolean film, List<Double> reachableC) {
    return nextTest(jobC, jobDosePct, film, reachableC, List.of(jobDosePct));
  }

  /**
   * The same among tests of several doses.
   *
   * @param dosesPct doses that a test could have, % by weight; at least one
   */
  public SuggestedGelTest nextTest(
      double jobC,
      double jobDosePct,
      boolean film,
      List<Double> reachableC,
      List<Double> dosesPct) {
    MaterialPosterior now = belief();
    double before = now.sdLnGel(jobC, jobDosePct, film);
    Optional<SuggestedGelTest> best = Optional.empty();
    for (GelTest.Where where : GelTest.Where.values()) {
      for (double testC : reachableC) {
        for (double testPct : dosesPct) {
          GelTest test = likelyTest(now, where, testC, testPct);
          double after =
              now.observing(testC, testPct, test.film(), test.minutes(), test.sdLn(now))
                  .sdLnGel(jobC, jobDosePct, film);
          double factor = StrictMath.exp(Z90 * after);
          if (best.isEmpty() || factor < LEAST_GAIN * best.get().bandFactorAfter()) {
            best = Optional.of(suggestion(test, StrictMath.exp(Z90 * before), factor));
          }
        }
      }
    }
    return best.orElseThrow(
        () -> new IllegalArgumentException("enter at least one temperature for a gel test"));
  }

  private static GelTest likelyTest(
      MaterialPosterior now, GelTest.Where where, double testC, double testPct) {
    double minutes =
        Math.max(
            GelTest.SHORTEST_MINUTES,
            Math.min(GelTest.LONGEST_MINUTES, now.likelyGelMinutes(testC, testPct)));
    return new GelTest(where, testC, testPct, minutes);
  }

  private static SuggestedGelTest suggestion(GelTest test, double now, double after) {
    String what = test.film() ? "thin-layer test" : "cup test";
    return new SuggestedGelTest(
        test.where(),
        test.temperatureC(),
        test.doseByWeightPct(),
        now,
        after,
        "Best next test: a %s at %s with %s. It would bring the latest time from %s to %s times the likely time."
            .formatted(
                what,
                Words.celsius(test.temperatureC()),
                Words.percent(test.doseByWeightPct()),
                Words.number(now, 2),
                Words.number(after, 2)));
  }
}
