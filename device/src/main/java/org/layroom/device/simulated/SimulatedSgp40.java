package org.layroom.device.simulated;

import java.time.Duration;
import java.util.Arrays;
import java.util.function.Supplier;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;

/** A make-believe SGP40: refuses words with a wrong check byte, and to be read too early. */
public final class SimulatedSgp40 implements I2cDevice {
  private static final int MEASURE = 0x260F;
  private static final int SELF_TEST = 0x280E;
  private static final Duration MEASURE_TIME = Duration.ofMillis(25);
  private static final Duration SELF_TEST_TIME = Duration.ofMillis(300);

  private final Supplier<RoomTruth> truth;
  private final Supplier<Duration> uptime;
  private byte[] answer = new byte[0];
  private Duration readyAt = Duration.ZERO;

  public SimulatedSgp40(Supplier<RoomTruth> truth, Supplier<Duration> uptime) {
    this.truth = truth;
    this.uptime = uptime;
  }

  @Override
  public synchronized void write(byte... bytes) throws BusFault {
    answer = new byte[0];
    if (bytes.length < 2) {
      throw new BusFault("not acknowledged: a command has two bytes");
    }
    int command = (bytes[0] & 0xFF) << 8 | (bytes[1] & 0xFF);
    if (command == MEASURE) {
      checkWords(bytes);
      answer(MEASURE_TIME, (int) Math.round(Math.max(0, Math.min(65535, truth.get().vocRaw()))));
    } else if (command == SELF_TEST) {
      answer(SELF_TEST_TIME, 0xD400);
    }
  }

  private void answer(Duration wait, int word) {
    answer = new byte[3];
    WordCheck.put(answer, 0, word);
    readyAt = uptime.get().plus(wait);
  }

  private static void checkWords(byte[] bytes) throws BusFault {
    if (bytes.length != 8
        || WordCheck.of((bytes[2] & 0xFF) << 8 | (bytes[3] & 0xFF)) != bytes[4]
        || WordCheck.of((bytes[5] & 0xFF) << 8 | (bytes[6] & 0xFF)) != bytes[7]) {
      throw new BusFault("not acknowledged: wrong length or check byte");
    }
  }

  @Override
  public synchronized byte[] read(int count) throws BusFault {
    if (answer.length == 0 || uptime.get().compareTo(readyAt) < 0) {
      throw new BusFault("not acknowledged: nothing to read yet");
    }
    byte[] bytes = Arrays.copyOf(answer, count);
    answer = new byte[0];
    return bytes;
  }

  @Override
  public byte[] writeRead(byte[] bytes, int count) throws BusFault {
    write(bytes);
    return read(count);
  }
}
