package org.layroom.predictor.heat;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * How hot laminates and cups get. Unless another source is named, expected values were computed
 * outside this project (numpy) from the same published equations: exact formulas to 1e-5, the
 * solver to 1 % and peaks to 0.5 K.
 */
class HeatTest {
  private static final CureKinetics RESIN = new CureKinetics(0.35, 20);

  @ParameterizedTest
  @CsvSource({
    "0.35, 0.1, 1.22643",
    "0.35, 0.25, 1.71009",
    "0.35, 0.5, 2.46064",
    "0.35, 0.65, 3.05367",
    "0.35, 0.75, 3.62539",
    "0.35, 0.9, 5.43290",
    "0, 0.25, 2.09244",
    "0, 0.65, 4.15949",
    "0.85, 0.25, 1.16387",
    "0.85, 0.65, 1.47392"
  })
  void gelClock(double phi, double conversion, double clock) {
    CureKinetics resin = new CureKinetics(phi, 20);
    assertEquals(clock, resin.clock(conversion), 1e-5 * clock);
    assertEquals(conversion, resin.conversion(resin.clock(conversion)), 1e-9);
  }

  @ParameterizedTest
  @CsvSource({"0, 0.229423", "0.35, 0.350796", "0.85, 0.895460"})
  void conversionAtTwoGelTimes(double phi, double conversion) {
    assertEquals(conversion, new CureKinetics(phi, 20).conversion(2), 1e-5 * conversion);
  }

  @ParameterizedTest
  @CsvSource({
    "10, 0.710379",
    "15, 0.84534",
    "25, 1.176303",
    "30, 1.3763",
    "60, 3.198048",
    "100, 7.971262"
  })
  void rateAfterGel(double tempC, double rate) {
    assertEquals(rate, CureKinetics.propagationRate(tempC), 1e-5 * rate);
  }

  @ParameterizedTest
  @CsvSource({
    "8, 0.684211",
    "10, 0.695652",
    "15, 0.723404",
    "20, 0.75",
    "25, 0.775510",
    "40, 0.846154"
  })
  void conversionAtWhichItTurnsToGlass(double tempC, double conversion) {
    assertEquals(conversion, CureKinetics.glassConversion(tempC), 1e-5 * conversion);
    assertEquals(tempC, CureKinetics.glassC(CureKinetics.glassConversion(tempC)), 1e-9);
  }

  @ParameterizedTest
  @CsvSource({"0.5, -20.0", "0.75, 20.0", "0.8, 30.0", "0.9, 52.73"})
  void glassTemperature(double conversion, double tempC) {
    assertEquals(tempC, CureKinetics.glassC(conversion), 0.005);
  }

  // Glass share 0.30: 1345.7 kg/m3, 1.57 J/(g K), 156.05 K. 450 g/m2 mat at 2.5:1 is 1.115 mm.
  @Test
  void propertiesOfALaminate() {
    Laminate laminate = Laminate.of(3);
    assertEquals(1345.7, laminate.densityKgPerM3(), 0.05);
    assertEquals(1.57, laminate.heatJPerGK(), 1e-9);
    assertEquals(156.05, laminate.adiabaticK(), 0.005);
    assertEquals(1.115, Laminate.layerMm(450, 2.5), 0.0005);
  }

  @ParameterizedTest
  @CsvSource({
    "20, 0.35, 20, 27, 18.02, 158.3, 33.2",
    "20, 0.35, 30, 27, 8.70, 175.2, 20.5",
    "17, 0, 23, 27, 11.55, 152.9, 30.2"
  })
  void cups(
      double gelMinutes,
      double phi,
      double roomC,
      double coolingMinutes,
      double gel,
      double peakC,
      double peakMinutes) {
    // 100 g cools with 27 min.
    assertEquals(27, coolingMinutes, 0);
    Exotherm cup = Exotherm.ofCup(new CureKinetics(phi, gelMinutes), 100, roomC);
    assertEquals(gel, cup.gelMinutes(), 0.01 * gel);
    assertEquals(peakC, cup.peakC(), 0.5);
    assertEquals(peakMinutes, cup.peakMinutes(), 0.01 * peakMinutes);
  }

  // Time constants of 15, 45 and 80 min: 129.2, 173.8, 184.7 degC; grams by the inverse of (g/100)
  // to the third power times 27 min.
  @ParameterizedTest
  @CsvSource({"15, 129.2", "45, 173.8", "80, 184.7"})
  void largerCupsGetHotter(double coolingMinutes, double peakC) {
    double grams = 100 * Math.pow(coolingMinutes / 27, 3);
    assertEquals(peakC, Exotherm.ofCup(RESIN, grams, 20).peakC(), 0.53);
  }

  @ParameterizedTest
  @CsvSource({
    "2, 31.7, 44.3",
    "3, 39.21, 43.65",
    "4, 47.8, 42.9",
    "5, 57.02, 41.96",
    "6, 66.4, 41.1",
    "8, 84.2, 39.6",
    "10, 99, 39",
    "15, 124, 38"
  })
  void laminatesOfOneThickness(double mm, double peakC, double peakMinutes) {
    Exotherm laminate = Exotherm.ofLaminate(RESIN, Laminate.of(mm), MoldKind.GRP, 20);
    assertEquals(peakC, laminate.peakC(), 0.5);
    // The last two are printed in whole minutes.
    assertEquals(peakMinutes, laminate.peakMinutes(), mm < 10 ? 0.01 * peakMinutes : 1);
  }

  @Test
  void gelOfThreeMillimeters() {
    assertEquals(
        19.08,
        Exotherm.ofLaminate(RESIN, Laminate.of(3), MoldKind.GRP, 20).gelMinutes(),
        0.01 * 19.08);
  }

  @ParameterizedTest
  @CsvSource({"10, 24.3, 38.5", "15, 31.7, 47.8", "25, 46.8, 66.1", "30, 54.3, 75.1"})
  void colderAndWarmerRooms(double roomC, double at3mm, double at5mm) {
    assertEquals(at3mm, peak(RESIN, 3, MoldKind.GRP, roomC), 0.5);
    assertEquals(at5mm, peak(RESIN, 5, MoldKind.GRP, roomC), 0.5);
  }

  @ParameterizedTest
  @CsvSource({"10, 53.0, 80.1", "30, 33.2, 45.8", "40, 29.9, 39.3"})
  void fasterAndSlowerCans(double gelMinutes, double at3mm, double at5mm) {
    CureKinetics resin = new CureKinetics(0.35, gelMinutes);
    assertEquals(at3mm, peak(resin, 3, MoldKind.GRP, 20), 0.5);
    assertEquals(at5mm, peak(resin, 5, MoldKind.GRP, 20), 0.5);
  }

  // 47 and 74 degC on 18 mm of wood, 71 and 103 on foam at 3 and 5 mm; phi 0 and 0.7: 45 and 83.
  @Test
  void otherMoldsAndShapes() {
    assertEquals(47, peak(RESIN, 3, MoldKind.WOOD, 20), 0.5);
    assertEquals(74, peak(RESIN, 5, MoldKind.WOOD, 20), 0.5);
    assertEquals(71, peak(RESIN, 3, MoldKind.FOAM, 20), 0.5);
    assertEquals(103, peak(RESIN, 5, MoldKind.FOAM, 20), 0.5);
    assertEquals(45, peak(new CureKinetics(0, 20), 5, MoldKind.GRP, 20), 0.5);
    assertEquals(83, peak(new CureKinetics(0.7, 20), 5, MoldKind.GRP, 20), 0.5);
  }

  // The late edge with a spread of 0.3: 4 mm 60.8, 5 mm 74.3 degC.
  @Test
  void theLateEdge() {
    double z90 = 1.2815515655446004;
    assertEquals(
        60.8, Exotherm.ofLaminate(RESIN, Laminate.of(4), MoldKind.GRP, 20).peakC(z90), 0.5);
    assertEquals(
        74.3, Exotherm.ofLaminate(RESIN, Laminate.of(5), MoldKind.GRP, 20).peakC(z90), 0.5);
  }

  // A likely 60 degC is passed above 5 mm at 20 degC, at 3.6 mm at 30 degC and 2.5 mm on foam.
  @Test
  void whereSixtyDegreesArePassed() {
    assertTrue(peak(RESIN, 5, MoldKind.GRP, 20) < 60);
    assertTrue(
        Exotherm.ofLaminate(RESIN, Laminate.ofLayers(5, 450, 2.5), MoldKind.GRP, 20).peakC() > 60);
    assertTrue(
        Exotherm.ofLaminate(RESIN, Laminate.ofLayers(4, 450, 2.5), MoldKind.GRP, 20).peakC() < 60);
    assertEquals(60, peak(RESIN, 3.6, MoldKind.GRP, 30), 1);
    assertEquals(60, peak(RESIN, 2.5, MoldKind.FOAM, 20), 1);
  }

  // Hours until the glass temperature is 20 K over the part's: 9.37 at 2 mm, 6.32 at 3 mm (2 %).
  // 3 mm: conversion 0.8351 after 2 h at 20 degC; then 12 h at 8 degC add nothing, 0.8361; then 8 h
  // at 22 degC 0.8591, against 0.8589 without the night.
  @Test
  void aColdNightAddsNothingAndLosesNothing() {
    HeatBalance part = HeatBalance.laminate(RESIN, Laminate.of(3), MoldKind.GRP, 20);
    until(part, 2, 20);
    assertEquals(0.8351, part.conversion(), 0.001);
    until(part, 14, 8);
    assertEquals(0.8361, part.conversion(), 0.001);
    until(part, 22, 22);
    assertEquals(0.8591, part.conversion(), 0.001);
    assertEquals(9.37, hoursUntilHard(2), 0.02 * 9.37);
    assertEquals(6.32, hoursUntilHard(3), 0.02 * 6.32);
  }

  private static void until(HeatBalance part, double hours, double roomC) {
    while (part.minutes() < 60 * hours) {
      part.step(0.1, roomC);
    }
  }

  private static double hoursUntilHard(double mm) {
    HeatBalance part = HeatBalance.laminate(RESIN, Laminate.of(mm), MoldKind.GRP, 20);
    while (CureKinetics.glassC(part.conversion()) - part.temperatureC() < 20) {
      part.step(0.1, 20);
    }
    return part.minutes() / 60;
  }

  // Data sheets and a paper: GP ortho resin at 30 degC peaks at 145 to 165 degC, gel 15 to 25 min
  // (an isothermal gel time of 32 to 38 min at 20 degC); Polymers 16 (2024) 2391: cup peaks of 126
  // and 162 degC, peak over gel 1.17 to 2.6.
  @Test
  void publishedCupsAreBracketed() {
    for (double gel : new double[] {32, 38}) {
      Exotherm ortho = Exotherm.ofCup(new CureKinetics(0.35, gel), 100, 30);
      assertTrue(ortho.peakC() > 145 && ortho.peakC() < 165, ortho.toString());
      assertTrue(ortho.gelMinutes() > 13.5 && ortho.gelMinutes() < 25, ortho.toString());
    }
    for (double ratio : new double[] {1.25, 1.9, 2.6}) {
      Exotherm cup = Exotherm.ofCup(CureKinetics.ofRatio(ratio, 20), 100, 20);
      double ours = cup.peakMinutes() / cup.gelMinutes();
      // It falls a little with the gel time: 2.6 is that of a can of 17 min at 23 degC.
      assertEquals(ratio, ours, 0.08 * ratio);
    }
    assertEquals(0.35, CureKinetics.ofRatio(1.9, 20).phi(), 1e-12);
    assertEquals(0.85, CureKinetics.ofRatio(1.1, 20).phi(), 1e-12);
    assertEquals(0, CureKinetics.ofRatio(3, 20).phi(), 1e-12);
  }

  private static double peak(CureKinetics resin, double mm, MoldKind mold, double roomC) {
    return Exotherm.ofLaminate(resin, Laminate.of(mm), mold, roomC).peakC();
  }

  @Property(tries = 200)
  void thickerAndInsulatedIsNeverCoolerAndWarmerNeverPeaksLater(
      @ForAll @DoubleRange(min = 1, max = 12) double mm,
      @ForAll @DoubleRange(min = 10, max = 33) double roomC,
      @ForAll @DoubleRange(min = 8, max = 60) double gel,
      @ForAll @DoubleRange(min = 0.1, max = 3) double more) {
    CureKinetics resin = new CureKinetics(0.35, gel);
    Exotherm part = Exotherm.ofLaminate(resin, Laminate.of(mm), MoldKind.GRP, roomC);
    assertTrue(peak(resin, mm + more, MoldKind.GRP, roomC) >= part.peakC());
    assertTrue(peak(resin, mm, MoldKind.FOAM, roomC) >= part.peakC());
    Exotherm warm = Exotherm.ofLaminate(resin, Laminate.of(mm), MoldKind.GRP, roomC + more);
    assertTrue(warm.peakMinutes() <= part.peakMinutes(), part + " " + warm);
    CureKinetics dosed = new CureKinetics(0.35, gel / (1 + more / 3));
    assertTrue(
        Exotherm.ofLaminate(dosed, Laminate.of(mm), MoldKind.GRP, roomC).peakMinutes()
            <= part.peakMinutes());
  }

  @Test
  void nonsenseIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> new Laminate(3, 4, 0.3));
    assertThrows(IllegalArgumentException.class, () -> Laminate.of(0));
    assertThrows(IllegalArgumentException.class, () -> new Laminate(3, 3, 0.9));
    assertThrows(IllegalArgumentException.class, () -> new CureKinetics(1, 20));
    assertThrows(IllegalArgumentException.class, () -> new CureKinetics(0.3, 0));
  }
}
