package org.layroom.device.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

/** The check byte of Sensirion words. */
class SensirionWordTest {
  /** SHT4x data sheet section 4.4 and SGP40 data sheet section 3.4: CRC(0xBEEF) = 0x92. */
  @Test
  void theDataSheetsExampleHasItsCheckByte() {
    assertEquals(0x92, SensirionWord.crc((byte) 0xBE, (byte) 0xEF));
  }

  /** SGP40 data sheet, table "measure raw signal": the default words with their check bytes. */
  @Test
  void theDefaultWordsHaveTheirCheckBytes() {
    assertEquals(0xA2, SensirionWord.crc((byte) 0x80, (byte) 0x00));
    assertEquals(0x93, SensirionWord.crc((byte) 0x66, (byte) 0x66));
  }

  @Property
  void anySingleFlippedBitIsSeen(
      @ForAll @IntRange(max = 65_535) int word, @ForAll @IntRange(max = 23) int bit) {
    byte[] bytes = new byte[SensirionWord.BYTES];
    SensirionWord.put(bytes, 0, word);
    assertTrue(SensirionWord.intact(bytes, 0));
    bytes[bit / 8] ^= (byte) (1 << bit % 8);
    assertFalse(SensirionWord.intact(bytes, 0));
  }
}
