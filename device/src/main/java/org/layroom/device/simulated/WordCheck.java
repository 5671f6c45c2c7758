package org.layroom.device.simulated;

/**
 * The check byte after each word of a simulated Sensirion chip: by table, on purpose another way
 * than the driver's.
 */
final class WordCheck {
  private static final int[] TABLE = table();

  private WordCheck() {}

  private static int[] table() {
    int[] table = new int[256];
    for (int i = 0; i < 256; i++) {
      int remainder = i << 7;
      for (int bit = 14; bit >= 7; bit--) {
        remainder = remainder << 1;
        if ((remainder & 0x8000) != 0) {
          remainder ^= 0x131 << 7;
        }
      }
      table[i] = (remainder >> 7) & 0xFF;
    }
    return table;
  }

  static byte of(int word) {
    return (byte) TABLE[TABLE[0xFF ^ (word >> 8 & 0xFF)] ^ (word & 0xFF)];
  }

  static void put(byte[] bytes, int offset, int word) {
    bytes[offset] = (byte) (word >> 8);
    bytes[offset + 1] = (byte) word;
    bytes[offset + 2] = of(word);
  }
}
