package org.layroom.device.chip;

/**
 * The 16-bit words of Sensirion chips, each followed by a check byte: CRC-8, polynomial 0x31, start
 * 0xFF, nothing reflected (SHT4x data sheet section 4.4, SGP40 data sheet section 3.4).
 */
final class SensirionWord {
  /** Two data bytes and their CRC. */
  static final int BYTES = 3;

  private static final int POLYNOMIAL = 0x31;
  private static final int START = 0xFF;

  private SensirionWord() {}

  static int crc(byte first, byte second) {
    return next(next(START, first), second);
  }

  private static int next(int crc, byte data) {
    int value = crc ^ (data & 0xFF);
    for (int bit = 0; bit < 8; bit++) {
      value = (value & 0x80) != 0 ? (value << 1) ^ POLYNOMIAL : value << 1;
      value &= 0xFF;
    }
    return value;
  }

  static boolean intact(byte[] bytes, int offset) {
    return crc(bytes[offset], bytes[offset + 1]) == (bytes[offset + 2] & 0xFF);
  }

  static int word(byte[] bytes, int offset) {
    return (bytes[offset] & 0xFF) << 8 | (bytes[offset + 1] & 0xFF);
  }

  static void put(byte[] bytes, int offset, int word) {
    bytes[offset] = (byte) (word >> 8);
    bytes[offset + 1] = (byte) word;
    bytes[offset + 2] = (byte) crc(bytes[offset], bytes[offset + 1]);
  }
}
