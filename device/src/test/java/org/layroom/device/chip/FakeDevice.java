package org.layroom.device.chip;

import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;

/** A chip that says what it is told to say, and remembers what it was told. */
final class FakeDevice implements I2cDevice {
  private final List<String> written = new ArrayList<>();
  private byte[] answer = new byte[0];
  private boolean silent;

  static FakeDevice answering(byte[] answer) {
    FakeDevice device = new FakeDevice();
    device.answer = answer;
    return device;
  }

  static FakeDevice silent() {
    FakeDevice device = new FakeDevice();
    device.silent = true;
    return device;
  }

  List<String> written() {
    return written;
  }

  @Override
  public void write(byte... bytes) throws BusFault {
    if (silent) {
      throw new BusFault("no answer");
    }
    written.add(HexFormat.of().formatHex(bytes));
  }

  @Override
  public byte[] read(int count) throws BusFault {
    if (silent) {
      throw new BusFault("no answer");
    }
    byte[] bytes = new byte[count];
    for (int i = 0; i < count && answer.length > 0; i++) {
      bytes[i] = answer[i % answer.length];
    }
    return bytes;
  }

  @Override
  public byte[] writeRead(byte[] bytes, int count) throws BusFault {
    write(bytes);
    return read(count);
  }
}
