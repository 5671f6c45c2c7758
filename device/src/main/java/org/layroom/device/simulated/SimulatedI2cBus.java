package org.layroom.device.simulated;

import java.util.Map;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.concurrent.ConcurrentHashMap;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cBus;
import org.layroom.device.bus.I2cDevice;

/** An I2C bus whose chips can be unplugged, and whose wires can be made noisy. */
public final class SimulatedI2cBus implements I2cBus {
  private final Map<Integer, I2cDevice> chips = new ConcurrentHashMap<>();
  private final Set<Integer> unplugged = ConcurrentHashMap.newKeySet();
  private final Set<Integer> noisy = ConcurrentHashMap.newKeySet();
  private BadReads bad = BadReads.NONE;

  /** Which answers are spoilt: one in so many, by a seeded die; 0 for none. */
  private record BadReads(int oneIn, SplittableRandom die) {
    static final BadReads NONE = new BadReads(0, new SplittableRandom(0));

    boolean spoils() {
      return oneIn > 0 && die.nextInt(oneIn) == 0;
    }
  }

  /** Fits a chip. */
  public SimulatedI2cBus fit(int address, I2cDevice chip) {
    chips.put(address, chip);
    return this;
  }

  /** Whether a chip was fitted at this address, plugged in or not. */
  public boolean fitted(int address) {
    return chips.containsKey(address);
  }

  /** From now on nothing answers at this address. */
  public void unplug(int address) {
    unplugged.add(address);
  }

  public void plugIn(int address) {
    unplugged.remove(address);
  }

  /** From now on one bit of each answer from this address is wrong, or right again. */
  public void disturb(int address, boolean disturbed) {
    if (disturbed) {
      noisy.add(address);
    } else {
      noisy.remove(address);
    }
  }

  /**
   * From now on one answer in so many is spoilt, whichever chip gives it: half of them do not come,
   * half have a wrong bit.
   *
   * @param oneIn 0 for none
   */
  public void badReads(int oneIn, long seed) {
    bad = new BadReads(oneIn, new SplittableRandom(seed));
  }

  @Override
  public I2cDevice device(int address) {
    return new Plug(address);
  }

  @Override
  public void close() {}

  private final class Plug implements I2cDevice {
    private final int address;

    Plug(int address) {
      this.address = address;
    }

    private I2cDevice chip() throws BusFault {
      I2cDevice chip = chips.get(address);
      if (chip == null || unplugged.contains(address)) {
        throw new BusFault(
            "no answer at I2C address 0x"
                + Integer.toHexString(address)
                + ": check its connector and wires");
      }
      return chip;
    }

    @Override
    public void write(byte... bytes) throws BusFault {
      chip().write(bytes);
    }

    @Override
    public byte[] read(int count) throws BusFault {
      return onTheWire(chip().read(count));
    }

    @Override
    public byte[] writeRead(byte[] bytes, int count) throws BusFault {
      return onTheWire(chip().writeRead(bytes, count));
    }

    private byte[] onTheWire(byte[] answer) throws BusFault {
      if (bad.spoils()) {
        if (bad.die().nextBoolean()) {
          throw new BusFault("no answer at I2C address 0x" + Integer.toHexString(address));
        }
        answer[answer.length - 1] ^= 0x10;
      }
      if (answer.length > 0 && noisy.contains(address)) {
        answer[answer.length - 1] ^= 0x10;
      }
      return answer;
    }
  }
}
