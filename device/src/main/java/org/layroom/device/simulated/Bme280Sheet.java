package org.layroom.device.simulated;

/**
 * The data sheet's integer reference code (BST-BME280-DS002 section 4.2.3) with the worked
 * example's calibration (BMP280 data sheet section 3.12; the humidity words are invented), and its
 * inverse by bisection: which raw value a chip would show. The driver computes in double precision
 * instead, so the two check each other.
 */
final class Bme280Sheet {
  static final int[] DIG_T = {27504, 26435, -1000};
  static final int[] DIG_P = {36477, -10685, 3024, 2855, 140, -7, 15500, -14600, 6000};
  static final int[] DIG_H = {75, 362, 0, 313, 50, 30};

  private static final int TWENTY_BITS = (1 << 20) - 1;
  private static final int DRIEST = 12_000;
  private static final int WETTEST = 50_000;

  private Bme280Sheet() {}

  static int fine(int adcT) {
    int var1 = (((adcT >> 3) - (DIG_T[0] << 1)) * DIG_T[1]) >> 11;
    int part = (adcT >> 4) - DIG_T[0];
    int var2 = (((part * part) >> 12) * DIG_T[2]) >> 14;
    return var1 + var2;
  }

  /** Pa. */
  static double pressure(int adcP, int fine) {
    long var1 = (long) fine - 128000;
    long var2 = var1 * var1 * DIG_P[5];
    var2 = var2 + ((var1 * DIG_P[4]) << 17);
    var2 = var2 + ((long) DIG_P[3] << 35);
    var1 = ((var1 * var1 * DIG_P[2]) >> 8) + ((var1 * DIG_P[1]) << 12);
    var1 = (((1L << 47) + var1) * DIG_P[0]) >> 33;
    long p = 1048576L - adcP;
    p = (((p << 31) - var2) * 3125) / var1;
    var1 = (DIG_P[8] * (p >> 13) * (p >> 13)) >> 25;
    var2 = (DIG_P[7] * p) >> 19;
    p = ((p + var1 + var2) >> 8) + ((long) DIG_P[6] << 4);
    return p / 256.0;
  }

  /** Percent. */
  static double humidity(int adcH, int fine) {
    int x = fine - 76800;
    x =
        ((((adcH << 14) - (DIG_H[3] << 20) - (DIG_H[4] * x)) + 16384) >> 15)
            * (((((((x * DIG_H[5]) >> 10) * (((x * DIG_H[2]) >> 11) + 32768)) >> 10) + 2097152)
                        * DIG_H[1]
                    + 8192)
                >> 14);
    x = x - (((((x >> 15) * (x >> 15)) >> 7) * DIG_H[0]) >> 4);
    int q22Point10 = Math.max(0, Math.min(419_430_400, x)) >> 12;
    return q22Point10 / 1024.0;
  }

  /** The raw temperature that shows {@code celsius}, -40 to 85. */
  static int rawTemperature(double celsius) {
    return smallest(TWENTY_BITS, raw -> fine(raw) / 5120.0 >= celsius);
  }

  /** The raw pressure; the register falls as the pressure rises. */
  static int rawPressure(double pascal, int fine) {
    return smallest(TWENTY_BITS, raw -> pressure(raw, fine) <= pascal);
  }

  /** The raw humidity, inside the stretch in which the formula rises. */
  static int rawHumidity(double pct, int fine) {
    return DRIEST + smallest(WETTEST - DRIEST, above -> humidity(DRIEST + above, fine) >= pct);
  }

  private interface Reached {
    boolean at(int raw);
  }

  private static int smallest(int largest, Reached reached) {
    int low = 0;
    int high = largest;
    while (low < high) {
      int middle = (low + high) >>> 1;
      if (reached.at(middle)) {
        high = middle;
      } else {
        low = middle + 1;
      }
    }
    return low;
  }
}
