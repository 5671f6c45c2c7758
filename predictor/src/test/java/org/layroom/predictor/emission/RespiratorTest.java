package org.layroom.predictor.emission;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.layroom.predictor.exposure.ExposureLimit;

/**
 * Half mask to ten times the limit and 500 ppm, fit-tested full face to fifty times and below 700
 * ppm (assigned protection factors of 29 CFR 1910.134 and NIOSH's Pocket Guide for styrene, from
 * memory but the 700 ppm); twice the likely figure is compared.
 */
class RespiratorTest {
  @ParameterizedTest
  @CsvSource({
    // limit, likely peak, mask: by hand
    "20, 0, HALF_MASK",
    "20, 100, HALF_MASK",
    "20, 101, FULL_FACE",
    "20, 349, FULL_FACE",
    "20, 350, SUPPLIED_AIR",
    "20, 1000, SUPPLIED_AIR",
    "10, 50, HALF_MASK",
    "10, 51, FULL_FACE",
    "10, 249, FULL_FACE",
    "10, 250, SUPPLIED_AIR",
    "50, 250, HALF_MASK",
    "50, 251, FULL_FACE",
    "100, 250, HALF_MASK",
    "100, 251, FULL_FACE",
    "100, 350, SUPPLIED_AIR",
  })
  void theMaskFitsTwiceTheLikelyPeak(double limit, double peak, Respirator mask) {
    assertEquals(mask, Respirator.covering(peak, ExposureLimit.own(limit)));
  }

  // 5 kg at 42 % in a shut room of 35 m3: about 2000 ppm, nearly three times what is immediately
  // dangerous (700 ppm).
  @Test
  void twoThousandPpmIsNoPlaceForACartridge() {
    LayupAir air =
        LayupAir.predict(
            new VentilatedRoom(35, AirChanges.Guess.SHUT, 3, 20),
            Layup.of(Layup.Batch.resin(5, 42), Duration.ofMinutes(30), Duration.ofMinutes(75)),
            ExposureLimit.untilChosen());
    assertTrue(air.breathingZone().peakPpm() > 1500);
    assertEquals(Respirator.SUPPLIED_AIR, air.respirator());
    String said = String.join(" ", air.changes()).toLowerCase(Locale.ROOT);
    assertFalse(said.contains("fresh organic-vapor"), said);
    assertTrue(said.contains("no cartridge protects"), said);
    assertTrue(
        air.alternatives().stream().allMatch(one -> one.respirator() != Respirator.SUPPLIED_AIR));
    assertFalse(air.alternatives().isEmpty());
    // Over a tenth of the explosive limit (900 ppm) no mask is offered: it does nothing against
    // fire.
    assertFalse(air.suppliedAirOffered());
  }

  @Test
  void anAlternativeIsCoveredByTheMaskThatItNames() {
    LayupAir air =
        LayupAir.predict(
            new VentilatedRoom(40, AirChanges.Guess.SHUT, 3, 20),
            Layup.of(Layup.Batch.resin(1.2, 42), Duration.ofMinutes(30), Duration.ofMinutes(75)),
            ExposureLimit.untilChosen());
    assertTrue(air.respirator().doseBehindChoice(), air.breathingZone().toString());
    assertTrue(air.suppliedAirOffered());
    for (LayupAir.Alternative one : air.alternatives()) {
      assertEquals(
          one.respirator(), Respirator.covering(one.peakPpm(), ExposureLimit.untilChosen()));
    }
  }

  @Test
  void noMaskIsCalledSafe() {
    for (Respirator mask : Respirator.values()) {
      assertFalse(mask.instruction().toLowerCase(Locale.ROOT).contains("safe"));
    }
  }
}
