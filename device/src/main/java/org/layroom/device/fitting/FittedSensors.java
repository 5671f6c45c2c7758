package org.layroom.device.fitting;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Supplier;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cBus;
import org.layroom.device.bus.OneWire;
import org.layroom.device.chip.Ads1115;
import org.layroom.device.chip.Bme280;
import org.layroom.device.chip.Mlx90614;
import org.layroom.device.chip.Sgp40;
import org.layroom.device.chip.Sht4x;
import org.layroom.device.config.DeviceConfig;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.AirSensor;
import org.layroom.device.sampling.CorrectedSensor;
import org.layroom.device.sampling.CurrentCleanAir;
import org.layroom.device.sampling.CurrentOffsets;
import org.layroom.device.sampling.InfraredSensor;
import org.layroom.device.sampling.PidSensor;
import org.layroom.device.sampling.SamplingRound;
import org.layroom.device.sampling.Sensor;
import org.layroom.device.sampling.ValueOrigin;
import org.layroom.device.sampling.VocLevelSensor;
import org.layroom.device.sampling.VocSensor;
import org.tinylog.Logger;

/**
 * The sensors that are plugged in: looked for at their addresses at the start, and again every
 * minute for those not yet found. One that was found stays, so that its loss is a fault; so does a
 * thermometer that the settings name, found or not.
 */
public final class FittedSensors implements Supplier<List<? extends Sensor>> {
  private static final Duration LOOK_AGAIN = Duration.ofMinutes(1);

  private static final String NOTHING =
      "no sensor found at any known address: check connectors, wires and raspi-config";

  private final I2cBus i2c;
  private final Pace pace;
  private final DeviceConfig config;
  private final CurrentCleanAir cleanAir;
  private final CurrentOffsets offsets;
  private final FittedThermometers thermometers;
  private final Map<String, String> places = new TreeMap<>();
  private final List<Sensor> air = new ArrayList<>();
  private Optional<Bme280> bme280 = Optional.empty();
  private Optional<Sensor> barometer = Optional.empty();
  private Optional<Sensor> infrared = Optional.empty();
  private Optional<Sensor> voc = Optional.empty();
  private Optional<Sensor> pid = Optional.empty();
  private final List<Sensor> troubles = new ArrayList<>();
  private Optional<Duration> lookedAt = Optional.empty();

  public FittedSensors(
      I2cBus i2c, OneWire oneWire, Pace pace, DeviceConfig config, CurrentCleanAir cleanAir) {
    this(i2c, oneWire, pace, config, cleanAir, new CurrentOffsets(config.offsets()));
  }

  public FittedSensors(
      I2cBus i2c,
      OneWire oneWire,
      Pace pace,
      DeviceConfig config,
      CurrentCleanAir cleanAir,
      CurrentOffsets offsets) {
    this.offsets = offsets;
    this.i2c = i2c;
    this.pace = pace;
    this.config = config;
    this.cleanAir = cleanAir;
    thermometers = new FittedThermometers(oneWire, config, offsets);
    if (config.infrared().onTheOnlyMold()) {
      thermometers.leaveTheMold();
    }
  }

  @Override
  public List<Sensor> get() {
    boolean due =
        lookedAt.isEmpty() || pace.uptime().minus(lookedAt.get()).compareTo(LOOK_AGAIN) >= 0;
    if (due) {
      lookedAt = Optional.of(pace.uptime());
      look();
    }
    List<Sensor> all = new ArrayList<>(air);
    barometer.ifPresent(all::add);
    all.addAll(thermometers.parts());
    infrared.ifPresent(all::add);
    voc.ifPresent(all::add);
    pid.ifPresent(all::add);
    all.addAll(troubles);
    return all.isEmpty() ? List.of(new Trouble("sensors", NOTHING)) : all;
  }

  /** Where a part was found, in words; empty for one that was not. */
  public String place(Sensor part) {
    return places.getOrDefault(part.name(), "");
  }

  private void look() {
    troubles.clear();
    try {
      Sgp40 vapor = new Sgp40(i2c.device(Sgp40.ADDRESS), pace);
      if (voc.isEmpty()) {
        vapor.beginSelfTest();
      }
      lookForAir();
      lookForInfrared();
      lookForPid();
      lookForVapor(vapor);
    } catch (BusFault e) {
      troubles.add(new Trouble("I2C bus", e.reason()));
    }
    try {
      thermometers.look();
    } catch (BusFault e) {
      troubles.add(new Trouble("1-wire bus", e.reason()));
    }
  }

  private void lookForAir() throws BusFault {
    for (int address : new int[] {Sht4x.ADDRESS_A, Sht4x.ADDRESS_B}) {
      Sht4x chip = new Sht4x(i2c.device(address), pace);
      if (air.isEmpty() && chip.present()) {
        air.add(found(AirSensor.sht4x(chip, ValueOrigin.LIVE), address));
        barometer = bme280.map(known -> AirSensor.barometer(known, ValueOrigin.LIVE));
      }
    }
    for (int address : new int[] {Bme280.ADDRESS_SDO_LOW, Bme280.ADDRESS_SDO_HIGH}) {
      Bme280 chip = new Bme280(i2c.device(address), pace);
      if (barometer.isEmpty() && chip.present()) {
        bme280 = Optional.of(chip);
        barometer =
            Optional.of(
                found(
                    air.isEmpty()
                        ? AirSensor.bme280(chip, ValueOrigin.LIVE)
                        : AirSensor.barometer(chip, ValueOrigin.LIVE),
                    address));
      }
    }
  }

  private void lookForInfrared() throws BusFault {
    Mlx90614 chip = new Mlx90614(i2c.device(Mlx90614.ADDRESS), config.infrared().emissivity());
    if (infrared.isEmpty() && chip.present()) {
      infrared =
          Optional.of(
              found(new InfraredSensor(chip, config.infrared().seriesName()), Mlx90614.ADDRESS));
    }
  }

  private void lookForVapor(Sgp40 chip) {
    if (voc.isEmpty() && chip.passesSelfTest()) {
      voc =
          Optional.of(
              found(
                  new VocLevelSensor(new VocSensor(chip, ValueOrigin.LIVE), cleanAir, pace),
                  Sgp40.ADDRESS));
    }
  }

  private void lookForPid() throws BusFault {
    for (int address = Ads1115.LOWEST_ADDRESS; address <= Ads1115.HIGHEST_ADDRESS; address++) {
      Ads1115 chip = new Ads1115(i2c.device(address), pace, config.pid().input());
      if (pid.isEmpty() && chip.present()) {
        pid = Optional.of(found(new PidSensor(chip, config.pid().calibration()), address));
      }
    }
  }

  private Sensor found(Sensor part, int address) {
    String place = "at I2C address 0x" + Integer.toHexString(address) + " on bus 1";
    places.put(part.name(), place);
    Logger.info("Found {} {}", part.name(), place);
    return CorrectedSensor.of(part, offsets, Optional.empty());
  }

  /** Says why there is nothing to read. */
  private record Trouble(String name, String reason) implements Sensor {
    @Override
    public List<SeriesName> series() {
      return List.of();
    }

    @Override
    public Outcome read(SamplingRound round) {
      return failed(reason);
    }
  }
}
