package org.layroom.device.chip;

/**
 * A BME280's calibration words and the compensation formulas in double precision (data sheet
 * BST-BME280-DS002, section 4.2.2 table 16 and appendix 8.1). Names as in the sheet.
 */
record Bme280Calibration(
    int digT1,
    int digT2,
    int digT3,
    int digP1,
    int digP2,
    int digP3,
    int digP4,
    int digP5,
    int digP6,
    int digP7,
    int digP8,
    int digP9,
    int digH1,
    int digH2,
    int digH3,
    int digH4,
    int digH5,
    int digH6) {

  /** From registers 0x88 to 0xA1 and 0xE1 to 0xE7. */
  static Bme280Calibration of(byte[] low, byte[] high) {
    return new Bme280Calibration(
        unsigned(low, 0),
        signed(low, 2),
        signed(low, 4),
        unsigned(low, 6),
        signed(low, 8),
        signed(low, 10),
        signed(low, 12),
        signed(low, 14),
        signed(low, 16),
        signed(low, 18),
        signed(low, 20),
        signed(low, 22),
        low[25] & 0xFF,
        signed(high, 0),
        high[2] & 0xFF,
        high[3] << 4 | (high[4] & 0x0F),
        high[5] << 4 | (high[4] & 0xF0) >> 4,
        high[6]);
  }

  /** {@code t_fine}. */
  double fineTemperature(int adcT) {
    double var1 = (adcT / 16384.0 - digT1 / 1024.0) * digT2;
    double part = adcT / 131072.0 - digT1 / 8192.0;
    double var2 = part * part * digT3;
    return var1 + var2;
  }

  static double temperatureC(double fine) {
    return fine / 5120.0;
  }

  /** Pa; not a number when the calibration is empty. */
  double pressurePa(int adcP, double fine) {
    double var1 = fine / 2.0 - 64000.0;
    double var2 = var1 * var1 * digP6 / 32768.0;
    var2 = var2 + var1 * digP5 * 2.0;
    var2 = var2 / 4.0 + digP4 * 65536.0;
    var1 = (digP3 * var1 * var1 / 524288.0 + digP2 * var1) / 524288.0;
    var1 = (1.0 + var1 / 32768.0) * digP1;
    if (var1 == 0) {
      return Double.NaN;
    }
    double p = 1048576.0 - adcP;
    p = (p - var2 / 4096.0) * 6250.0 / var1;
    var1 = digP9 * p * p / 2147483648.0;
    var2 = p * digP8 / 32768.0;
    return p + (var1 + var2 + digP7) / 16.0;
  }

  /** Relative humidity, cropped to 0 to 100 % as the sheet says. */
  double humidityPct(int adcH, double fine) {
    double h = fine - 76800.0;
    h =
        (adcH - (digH4 * 64.0 + digH5 / 16384.0 * h))
            * (digH2 / 65536.0 * (1.0 + digH6 / 67108864.0 * h * (1.0 + digH3 / 67108864.0 * h)));
    h = h * (1.0 - digH1 * h / 524288.0);
    return Math.max(0, Math.min(100, h));
  }

  private static int unsigned(byte[] bytes, int offset) {
    return (bytes[offset] & 0xFF) | (bytes[offset + 1] & 0xFF) << 8;
  }

  private static int signed(byte[] bytes, int offset) {
    return (short) unsigned(bytes, offset);
  }
}
