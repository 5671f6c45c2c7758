package org.layroom.predictor.cure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Both rate laws and their sums against tables that were computed outside this project from the
 * printed formulas and constants (R = 8.314462618 J/(mol K), 0 degC = 273.15 K).
 */
class RateLawTest {
  private static final ArrheniusRate EA54 = new ArrheniusRate(54, 20);

  @ParameterizedTest
  @CsvSource({
    "5,0.3028,0.00005",
    "10,0.457287,0.0000005",
    "12,0.5371,0.00005",
    "15,0.680836,0.0000005",
    "18,0.858826,0.0000005",
    "20,1,0",
    "22,1.1620,0.00005",
    "25,1.449965,0.0000005",
    "28,1.8014,0.00005",
    "30,2.076789,0.0000005",
    "32,2.3899,0.00005",
    "35,2.9401,0.00005"
  })
  void arrheniusRatesAsTabled(double tempC, double rate, double halfADigit) {
    assertEquals(rate, EA54.rate(tempC), halfADigit + 1e-12);
  }

  @ParameterizedTest
  @CsvSource({
    "5,0",
    "10,.2442",
    "12,.3954",
    "15,.6221",
    "18,.8488",
    "20,1",
    "22,1.1512",
    "25,1.3779",
    "28,1.6046",
    "30,1.7558",
    "32,1.9069",
    "35,2.1336"
  })
  void degreeHourRatesAsTabled(double tempC, double rate) {
    assertEquals(rate, new DegreeHourRate(6.76816, 20).rate(tempC), 0.00005 + 1e-12);
  }

  // T0 = 20 - 714.519 / Ea (Lee and Hover, ACI Materials Journal 113 (2016) 197).
  @Test
  void theTangentDatumFollowsFromTheActivationEnergy() {
    assertEquals(6.76816, EA54.tangentDatumC(), 0.000005);
    assertEquals(6.768160562, EA54.tangentDatumC(), 5e-10);
    assertEquals(20 - 714.519 / 40, new ArrheniusRate(40, 20).tangentDatumC(), 5e-5);
  }

  // "Within 9 % of Arrhenius over 15-25 degC and wrong by 2x at 10 degC"; best datum over 16-26
  // degC
  // 7.23 degC with 7 % at most.
  @Test
  void theStraightLineIsGoodInTheMiddleOnly() {
    DegreeHourRate line = new DegreeHourRate(EA54.tangentDatumC(), 20);
    for (double tempC = 15; tempC <= 25; tempC += 0.1) {
      assertEquals(1, line.rate(tempC) / EA54.rate(tempC), 0.09);
    }
    assertEquals(0.5, line.rate(10) / EA54.rate(10), 0.05);
    DegreeHourRate best = new DegreeHourRate(7.23, 20);
    for (double tempC = 16; tempC <= 26; tempC += 0.1) {
      assertEquals(1, best.rate(tempC) / EA54.rate(tempC), 0.0705);
    }
  }

  /** Each interval at its mean temperature, the form of ASTM C1074. */
  private static TemperaturePath intervalMeans(double... hoursThenC) {
    List<TemperaturePoint> points = new ArrayList<>();
    for (int i = 2; i < hoursThenC.length; i += 2) {
      double mean = (hoursThenC[i - 1] + hoursThenC[i + 1]) / 2;
      points.add(new TemperaturePoint(60 * hoursThenC[i - 2], mean));
      points.add(new TemperaturePoint(60 * hoursThenC[i], mean));
    }
    return TemperaturePath.of(points);
  }

  // A concrete quality-control text: 28 d at 15 degC, datum -11 degC, is 28 x 26 = 728 degC d.
  @Test
  void aDatumBelowZeroAddsDegrees() {
    TemperaturePath path = TemperaturePath.constant(15);
    double minutes = RateIntegral.until(path, DegreeHourRate.degreesAbove(-11), 28 * 24 * 60);
    assertEquals(728, minutes / 60 / 24, 1e-9);
  }

  private static final double[] M1 = {0, 18, 6, 24, 12, 30, 18, 27, 24, 20, 36, 12, 48, 8};

  @ParameterizedTest
  @CsvSource({
    "6,126,186,6.3582",
    "12,288,408,15.2893",
    "18,459,639,24.9917",
    "24,600,840,32.3291",
    "36,792,1152,41.8070",
    "48,912,1392,48.3771"
  })
  void maturityTableM1(double hours, double above0, double aboveMinus10, double equivalentHours) {
    TemperaturePath path = intervalMeans(M1);
    assertEquals(above0, sum(path, DegreeHourRate.degreesAbove(0), hours), 1e-9);
    assertEquals(aboveMinus10, sum(path, DegreeHourRate.degreesAbove(-10), hours), 1e-9);
    ArrheniusRate q5000 = new ArrheniusRate(5 * ArrheniusRate.R, 20);
    assertEquals(equivalentHours, sum(path, q5000, hours), 0.00005);
  }

  private static final double[] M2 = {
    0, 22, 1, 21, 2, 19.5, 4, 18, 8, 15, 12, 13, 16, 14, 20, 18, 24, 21
  };

  @ParameterizedTest
  @CsvSource({
    "1,1.11939,14.7318",
    "2,2.13845,28.2137",
    "4,3.95742,52.1774",
    "8,7.01794,91.1047",
    "12,9.53570,120.0321",
    "16,11.95606,146.9594",
    "20,14.90018,183.8868",
    "24,18.75160,234.8141"
  })
  void maturityTableM2(double hours, double equivalentHours, double degreeHours) {
    TemperaturePath path = intervalMeans(M2);
    assertEquals(equivalentHours, sum(path, EA54, hours), 0.000005);
    assertEquals(degreeHours, sum(path, DegreeHourRate.degreesAbove(6.768160562), hours), 0.00005);
  }

  @Test
  void straightLinesBetweenTheReadingsOfM2() {
    List<TemperaturePoint> points = new ArrayList<>();
    for (int i = 0; i < M2.length; i += 2) {
      points.add(new TemperaturePoint(60 * M2[i], M2[i + 1]));
    }
    assertEquals(18.78081, sum(TemperaturePath.of(points), EA54, 24), 0.000005);
  }

  private static double sum(TemperaturePath path, RateLaw law, double hours) {
    return RateIntegral.until(path, law, 60 * hours) / 60;
  }

  @ParameterizedTest
  @CsvSource({"18,24,27.95", "15,24,35.25", "25,24,16.55", "15,168,246.76"})
  void equivalentHoursTakeLongerInTheCold(double tempC, double hoursAt20, double hours) {
    double minutes = RateIntegral.reaches(TemperaturePath.constant(tempC), EA54, 60 * hoursAt20);
    assertEquals(hours, minutes / 60, 0.005);
  }

  // A classification society's workmanship rules 3.2.7: 48 h at 18 degC; in degree-hours above
  // 6.76816 degC: 24 h at 20 °C 317.56, 41.2237 h 545.47, 168 h 2222.95.
  @Test
  void demoldTargetsInBothUnits() {
    assertEquals(41.2237, 48 * EA54.rate(18), 0.00005);
    DegreeHourRate degrees = DegreeHourRate.degreesAbove(6.76816);
    TemperaturePath at20 = TemperaturePath.constant(20);
    assertEquals(317.56, sum(at20, degrees, 24), 0.005);
    assertEquals(545.47, sum(at20, degrees, 41.2237), 0.005);
    assertEquals(2222.95, sum(at20, degrees, 168), 0.005);
  }

  // Ramp from none at 13 to full at 15 degC; earliest full, latest none (this project's choice).
  @ParameterizedTest
  @CsvSource({
    "12,0,1",
    "12,0.5,0",
    "12,1,0",
    "14,0,1",
    "14,0.5,0.5",
    "14,1,0",
    "15,1,1",
    "14,0.25,0.75",
    "14,0.75,0.25",
    "12,0.25,0.5"
  })
  void coldHoursCountInPart(double tempC, double doubt, double part) {
    ColdHourRate law = new ColdHourRate(EA54, doubt);
    assertEquals(part * EA54.rate(tempC), law.rate(tempC), 1e-12);
  }

  @Property
  void slopesAreThoseOfTheRates(
      @ForAll @DoubleRange(min = -5, max = 40) double tempC,
      @ForAll @DoubleRange(min = 0, max = 1) double doubt,
      @ForAll @DoubleRange(min = 30, max = 90) double ea) {
    ArrheniusRate arrhenius = new ArrheniusRate(ea, 20);
    for (RateLaw law :
        List.of(
            arrhenius,
            new DegreeHourRate(7, 20),
            new ColdHourRate(arrhenius, doubt),
            new ColdHourRate(new DegreeHourRate(7, 20), doubt),
            new SteepColdRate(arrhenius, 18, 95))) {
      boolean atKink = false;
      for (int i = 0; i < law.kinks(); i++) {
        atKink |= Math.abs(law.kinkC(i) - tempC) < 1e-3;
      }
      if (!atKink) {
        double secant = (law.rate(tempC + 1e-4) - law.rate(tempC - 1e-4)) / 2e-4;
        double rate = law.rate(tempC);
        assertEquals(secant, law.slope(tempC, rate), 1e-6);
        double up = law.slope(tempC + 1e-4, law.rate(tempC + 1e-4));
        double down = law.slope(tempC - 1e-4, law.rate(tempC - 1e-4));
        assertEquals((up - down) / 2e-4, law.secondSlope(tempC, rate), 1e-6);
        double upper = law.secondSlope(tempC + 1e-4, law.rate(tempC + 1e-4));
        double lower = law.secondSlope(tempC - 1e-4, law.rate(tempC - 1e-4));
        assertEquals((upper - lower) / 2e-4, law.thirdSlope(tempC, rate), 1e-6);
      }
    }
  }

  @Test
  void nonsenseIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> new ArrheniusRate(0, 20));
    assertThrows(IllegalArgumentException.class, () -> new ArrheniusRate(401, 20));
    assertThrows(IllegalArgumentException.class, () -> new ArrheniusRate(54, 300));
    assertThrows(IllegalArgumentException.class, () -> new DegreeHourRate(20, 20));
    assertThrows(IllegalArgumentException.class, () -> new ColdHourRate(EA54, 1.1));
    assertThrows(IllegalArgumentException.class, () -> new TemperaturePoint(0, 300));
    assertThrows(IllegalArgumentException.class, () -> new TemperaturePoint(Double.NaN, 20));
    assertThrows(IllegalArgumentException.class, () -> TemperaturePath.of(List.of()));
    assertThrows(
        IllegalArgumentException.class,
        () ->
            TemperaturePath.of(List.of(new TemperaturePoint(10, 20), new TemperaturePoint(5, 20))));
    assertThrows(
        IllegalArgumentException.class,
        () -> TemperaturePath.of(List.of(new TemperaturePoint(-1, 20))));
    assertThrows(
        IllegalArgumentException.class,
        () -> RateIntegral.until(TemperaturePath.constant(20), EA54, -1));
    assertTrue(
        Double.isInfinite(
            RateIntegral.reaches(TemperaturePath.constant(5), new DegreeHourRate(7, 20), 60)));
  }
}
