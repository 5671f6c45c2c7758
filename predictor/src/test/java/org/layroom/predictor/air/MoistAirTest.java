package org.layroom.predictor.air;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.hummeling.if97.IF97;
import com.synerset.hvacengine.fluids.humidair.HumidAirEquations;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Moist air against IAPWS-IF97, the ASHRAE formulas and printed values. */
class MoistAirTest {
  private static final IF97 IF97_SI = new IF97(IF97.UnitSystem.SI);

  /** The dew point with IF97 pressures, by bisection. */
  private static double dewPointByIf97(double tempC, double rhPct) {
    double vaporPa = IF97_SI.saturationPressureT(tempC + 273.15) * rhPct / 100;
    double low = 0;
    double high = tempC;
    for (int i = 0; i < 60; i++) {
      double middle = (low + high) / 2;
      if (IF97_SI.saturationPressureT(middle + 273.15) < vaporPa) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return low;
  }

  @Test
  void dewPointsAgreeWithIapwsIf97Within42Millikelvin() {
    int compared = 0;
    double worst = 0;
    for (int tempC = 5; tempC <= 40; tempC++) {
      for (int rhPct = 20; rhPct <= 95; rhPct += 5) {
        double vaporPa = IF97_SI.saturationPressureT(tempC + 273.15) * rhPct / 100;
        if (vaporPa < 611.3) {
          continue;
        }
        compared++;
        double error = MoistAir.dewPointC(tempC, rhPct) - dewPointByIf97(tempC, rhPct);
        worst = Math.max(worst, Math.abs(error));
      }
    }
    assertTrue(compared > 300, "compared " + compared);
    assertTrue(worst <= 0.0425, "largest error " + worst + " K");
  }

  // ASHRAE formulas as in hvac-engine; the Magnus error bound against IF97 is 0.042 K.
  @ParameterizedTest
  @CsvSource({"20,50", "20,65", "25,60", "30,80", "18,80", "15,85", "35,40"})
  void dewPointsAgreeWithAshrae(double tempC, double rhPct) {
    double ashrae = HumidAirEquations.dewPointTemperature(tempC, rhPct, 101_325);
    assertEquals(ashrae, MoistAir.dewPointC(tempC, rhPct), 0.06);
  }

  // ASHRAE, ideal gas, printed values: degC, %, Pa, degC, g/m3.
  @ParameterizedTest
  @CsvSource({
    "20,50,2338.804,9.2724,8.6433",
    "20,65,2338.804,13.2272,11.2363",
    "25,60,3169.217,16.7011,13.8190",
    "30,80,4246.030,26.1686,24.2785"
  })
  void printedAshraeValuesAreMet(
      double tempC, double rhPct, double saturationPa, double dewPointC, double gPerM3) {
    assertEquals(saturationPa, MoistAir.saturationPressurePa(tempC), 0.003 * saturationPa);
    assertEquals(dewPointC, MoistAir.dewPointC(tempC, rhPct), 0.05);
    assertEquals(gPerM3, MoistAir.absoluteHumidityGPerM3(tempC, rhPct), 0.003 * gPerM3);
  }

  // Magnus with a = 17.62, b = 243.12 degC (WMO-No. 8), computed outside this project.
  @ParameterizedTest
  @CsvSource({"20,80,16.44", "20,65,13.22", "18,80,14.50", "25,60,16.69", "15,85,12.50"})
  void printedMagnusDewPointsAreMetToTheLastDigit(double tempC, double rhPct, double dewPointC) {
    assertEquals(dewPointC, MoistAir.dewPointC(tempC, rhPct), 0.005001);
  }

  @Property
  void theDewPointIsNeverAboveTheAirAndRisesWithHumidity(
      @ForAll @DoubleRange(min = -20, max = 50) double tempC,
      @ForAll @DoubleRange(min = 1, max = 99) double rhPct) {
    double dewPointC = MoistAir.dewPointC(tempC, rhPct);
    assertTrue(dewPointC < tempC);
    assertTrue(MoistAir.dewPointC(tempC, rhPct + 1) > dewPointC);
  }

  @Property
  void airCooledToItsDewPointIsSaturated(
      @ForAll @DoubleRange(min = 0, max = 45) double tempC,
      @ForAll @DoubleRange(min = 10, max = 99) double rhPct) {
    double dewPointC = MoistAir.dewPointC(tempC, rhPct);
    double vaporPa = MoistAir.saturationPressurePa(tempC) * rhPct / 100;
    assertEquals(vaporPa, MoistAir.saturationPressurePa(dewPointC), 1e-9 * vaporPa);
  }

  @ParameterizedTest
  @CsvSource({"-46,50", "61,50", "20,0", "20,-1", "20,100.5", "NaN,50", "20,NaN"})
  void nonsenseIsRefusedWithTheRange(double tempC, double rhPct) {
    IllegalArgumentException refusal =
        assertThrows(
            IllegalArgumentException.class, () -> MoistAir.absoluteHumidityGPerM3(tempC, rhPct));
    assertTrue(String.valueOf(refusal.getMessage()).contains("must be"));
  }
}
