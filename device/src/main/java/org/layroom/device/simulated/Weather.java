package org.layroom.device.simulated;

/** Invented weather of a mild early spring: day and night, and fronts that come and go. */
final class Weather {
  private static final double DAY = 86_400;
  private static final double FRONT = 5.3 * DAY;

  private Weather() {}

  /** Outdoor temperature, degC; warmest at three in the afternoon. */
  static double outdoorC(double secondsOfDay, double seconds) {
    return 7
        + 4 * Math.cos(2 * Math.PI * (secondsOfDay / DAY - 15.0 / 24))
        + 2.5 * Math.sin(2 * Math.PI * seconds / FRONT);
  }

  /** Outdoor water vapor, g/m3. */
  static double outdoorVapor(double outdoorC, double seconds) {
    double relative = 0.78 + 0.08 * Math.sin(2 * Math.PI * seconds / FRONT + 1);
    return relative * saturationVapor(outdoorC);
  }

  static double pressurePa(double seconds) {
    return 101_300 - 700 * Math.sin(2 * Math.PI * seconds / FRONT);
  }

  /** Water vapor of saturated air, g/m3: Tetens' formula with the gas law (from memory). */
  static double saturationVapor(double celsius) {
    double pascal = 610.78 * Math.exp(17.27 * celsius / (celsius + 237.3));
    return 2.16679 * pascal / (celsius + 273.15);
  }
}
