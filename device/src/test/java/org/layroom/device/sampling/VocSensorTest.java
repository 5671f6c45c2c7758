package org.layroom.device.sampling;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.layroom.device.bus.I2cDevice;
import org.layroom.device.chip.Sgp40;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;

/** What becomes of the vapor chip's answers, one by one. */
class VocSensorTest {
  /** Answers in turn, with the check byte of the data sheet: CRC-8, polynomial 0x31, from 0xFF. */
  private static final class Answering implements I2cDevice {
    private final Deque<Integer> words = new ArrayDeque<>();

    @Override
    public void write(byte... bytes) {}

    @Override
    public byte[] read(int count) {
      int word = words.remove();
      byte[] bytes = {(byte) (word >> 8), (byte) word, 0};
      int check = 0xFF;
      for (int i = 0; i < 2; i++) {
        check ^= bytes[i] & 0xFF;
        for (int bit = 0; bit < 8; bit++) {
          check = (check & 0x80) != 0 ? (check << 1 ^ 0x31) & 0xFF : check << 1 & 0xFF;
        }
      }
      bytes[2] = (byte) check;
      return bytes;
    }

    @Override
    public byte[] writeRead(byte[] bytes, int count) {
      return read(count);
    }
  }

  private final SteppedPace pace = new SteppedPace(Instant.parse("2026-03-02T08:00:00Z"));
  private final Answering chip = new Answering();
  private final VocSensor sensor =
      VocSensor.poweredFor(Duration.ofHours(2), new Sgp40(chip, pace), ValueOrigin.LIVE);
  private int samples;

  private Reading sample(int... answers) {
    for (int one : answers) {
      chip.words.add(one);
    }
    SamplingRound round = new SamplingRound(Duration.ofSeconds(10L * samples++));
    round.found(20, 50);
    Reading reading = sensor.read(round).readings().get(0);
    assertEquals(List.of(), List.copyOf(chip.words), "answers left over");
    return reading;
  }

  private static double ticks(Reading reading) {
    assertEquals(Quality.good(), reading.quality());
    return reading.value().orElseThrow();
  }

  // A word that was spoiled on the wire passes a checksum of 8 bits once in 256 times.
  @Test
  void aValueThatLeapsIsAskedForAgainWithinTheSample() {
    assertEquals(30_000, ticks(sample(30_000)));
    assertEquals(30_010, ticks(sample(24_000, 30_010)), "toward vapor");
    assertEquals(30_020, ticks(sample(36_000, 30_020)), "toward clean");
    assertEquals(30_030, ticks(sample(65_535, 30_030)), "the clean end");
    assertEquals(30_000, ticks(sample(30_000)));
  }

  @Test
  void vaporThatIsThereAtTheSecondAnswerTooIsTold() {
    assertEquals(30_000, ticks(sample(30_000)));
    assertEquals(23_500, ticks(sample(24_000, 23_500)));
    assertEquals(23_600, ticks(sample(23_600)));
  }
}
