package org.layroom.device.simulated;

import java.time.Duration;
import java.util.Arrays;
import java.util.function.Supplier;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;

/** A make-believe SHT4x: answers as the data sheet says, not before its conversion has ended. */
public final class SimulatedSht4x implements I2cDevice {
  /** Typical duration of a high-precision measurement. */
  private static final Duration CONVERSION = Duration.ofNanos(6_900_000);

  private static final int SERIAL_HIGH = 0x0F5A;
  private static final int SERIAL_LOW = 0x21C4;

  private final Supplier<RoomTruth> truth;
  private final Supplier<Duration> uptime;
  private byte[] answer = new byte[0];
  private Duration readyAt = Duration.ZERO;

  public SimulatedSht4x(Supplier<RoomTruth> truth, Supplier<Duration> uptime) {
    this.truth = truth;
    this.uptime = uptime;
  }

  @Override
  public synchronized void write(byte... bytes) throws BusFault {
    int command = bytes.length == 1 ? bytes[0] & 0xFF : -1;
    if (command == 0xFD || command == 0xF6 || command == 0xE0) {
      RoomTruth now = truth.get();
      answer = words(temperatureWord(now.airC()), humidityWord(now.humidityPct()));
      readyAt = uptime.get().plus(CONVERSION);
    } else if (command == 0x89) {
      answer = words(SERIAL_HIGH, SERIAL_LOW);
      readyAt = uptime.get();
    } else {
      answer = new byte[0];
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

  private static int temperatureWord(double celsius) {
    return word((celsius + 45) / 175);
  }

  private static int humidityWord(double pct) {
    return word((pct + 6) / 125);
  }

  private static int word(double share) {
    return (int) Math.round(Math.max(0, Math.min(1, share)) * 65535);
  }

  private static byte[] words(int first, int second) {
    byte[] bytes = new byte[6];
    WordCheck.put(bytes, 0, first);
    WordCheck.put(bytes, 3, second);
    return bytes;
  }
}
