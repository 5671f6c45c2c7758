package org.layroom.device.simulated;

import java.time.Duration;
import java.util.function.Supplier;
import org.layroom.device.chip.Sgp40;
import org.layroom.device.chip.Sht4x;

/** The chips of a usual set, fitted to a simulated room: SHT4x, SGP40 and two thermometers. */
public final class SimulatedBench {
  public static final int AIR_ADDRESS = Sht4x.ADDRESS_A;
  public static final int VOC_ADDRESS = Sgp40.ADDRESS;
  public static final String MOLD_ID = "28-00000a5e0001";
  public static final String RESIN_ID = "28-00000a5e0002";

  private final SimulatedI2cBus i2c = new SimulatedI2cBus();
  private final SimulatedOneWire oneWire = new SimulatedOneWire();

  /**
   * Fits the chips.
   *
   * @param truth asked for at each measurement
   * @param uptime the running time by which conversions take their time
   */
  public SimulatedBench(Supplier<RoomTruth> truth, Supplier<Duration> uptime) {
    i2c.fit(AIR_ADDRESS, new SimulatedSht4x(truth, uptime));
    i2c.fit(VOC_ADDRESS, new SimulatedSgp40(truth, uptime));
    oneWire.fit(MOLD_ID, () -> truth.get().moldC());
    oneWire.fit(RESIN_ID, () -> truth.get().resinC());
  }

  public SimulatedI2cBus i2c() {
    return i2c;
  }

  public SimulatedOneWire oneWire() {
    return oneWire;
  }
}
