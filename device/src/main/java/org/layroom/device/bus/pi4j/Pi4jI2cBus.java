package org.layroom.device.bus.pi4j;

import com.pi4j.context.Context;
import com.pi4j.exception.Pi4JException;
import com.pi4j.io.i2c.I2C;
import com.pi4j.io.i2c.I2CProvider;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cBus;
import org.layroom.device.bus.I2cDevice;

/** One {@code /dev/i2c-*} bus. */
final class Pi4jI2cBus implements I2cBus {
  private static final String PROVIDER = "linuxfs-i2c";

  private final Context context;
  private final int bus;
  private final Map<Integer, I2C> open = new ConcurrentHashMap<>();

  Pi4jI2cBus(Context context, int bus) {
    this.context = context;
    this.bus = bus;
  }

  @Override
  public I2cDevice device(int address) throws BusFault {
    try {
      return new Device(open.computeIfAbsent(address, this::create), address);
    } catch (Pi4JException | IllegalStateException e) {
      throw new BusFault(
          "I2C bus "
              + bus
              + " cannot be opened ("
              + e.getMessage()
              + "): enable I2C with raspi-config and add the user to the group i2c",
          e);
    }
  }

  private I2C create(int address) {
    I2CProvider provider = context.provider(PROVIDER);
    return provider.create(
        I2C.newConfigBuilder(context)
            .id("i2c-" + bus + "-" + address)
            .bus(bus)
            .device(address)
            .build());
  }

  @Override
  public void close() {
    open.values().forEach(I2C::close);
    open.clear();
  }

  private record Device(I2C i2c, int address) implements I2cDevice {
    @Override
    public void write(byte... bytes) throws BusFault {
      try {
        checkCount(i2c.write(bytes, 0, bytes.length), bytes.length, "written");
      } catch (RuntimeException e) {
        throw silent(e);
      }
    }

    @Override
    public byte[] read(int count) throws BusFault {
      byte[] bytes = new byte[count];
      try {
        checkCount(i2c.read(bytes, 0, count), count, "read");
      } catch (RuntimeException e) {
        throw silent(e);
      }
      return bytes;
    }

    /**
     * A repeated start through {@code I2C_RDWR}. The whole buffer from 0 on: Pi4J 2.8 ignores the
     * offset of its longer form.
     */
    @Override
    public byte[] writeRead(byte[] bytes, int count) throws BusFault {
      byte[] answer = new byte[count];
      try {
        checkCount(i2c.readRegister(bytes, answer, 0, count), count, "read");
      } catch (RuntimeException e) {
        throw silent(e);
      }
      return answer;
    }

    private void checkCount(int done, int wanted, String what) throws BusFault {
      if (done != wanted) {
        throw new BusFault("chip at %s: %d of %d bytes %s".formatted(hex(), done, wanted, what));
      }
    }

    private BusFault silent(RuntimeException e) {
      return new BusFault(
          "no answer at I2C address " + hex() + ": check its connector and wires", e);
    }

    private String hex() {
      return "0x" + Integer.toHexString(address);
    }
  }
}
