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
import org.layroom.device.config.DeviceConfig;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.CorrectedSensor;
import org.layroom.device.sampling.CurrentCleanAir;
import org.layroom.device.sampling.CurrentOffsets;
import org.layroom.device.sampling.SamplingRound;
import org.layroom.device.sampling.Sensor;
import org.tinylog.Logger;

/**
 * The sensors that are plugged in: the chips of the catalog, looked for at their addresses at the
 * start, and again every minute for those not yet found. One that was found stays, so that its loss
 * is a fault; so does a thermometer that the settings name, found or not.
 */
public final class FittedSensors implements Supplier<List<? extends Sensor>> {
  private static final Duration LOOK_AGAIN = Duration.ofMinutes(1);

  private static final String NOTHING =
      "no sensor found at any known address: check connectors, wires and raspi-config";

  private final ChipCatalog catalog;
  private final I2cBus i2c;
  private final ChipContext context;
  private final CurrentOffsets offsets;
  private final FittedThermometers thermometers;
  private final Map<String, String> places = new TreeMap<>();
  private final Map<String, FittedChip> chips = new TreeMap<>();
  private final List<Sensor> troubles = new ArrayList<>();
  private Optional<Duration> lookedAt = Optional.empty();

  /** A driver opened at one of its kind's addresses. */
  private record Probe(I2cChip kind, int address, ChipCandidate candidate) {}

  /** A chip that was found, with what it gives: nothing where a better one gives it all. */
  private record FittedChip(Probe probe, Optional<Sensor> sensor) {}

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
    this(
        ChipCatalog.standard(),
        i2c,
        new ChipContext(pace, config.chips(), cleanAir, Optional.empty()),
        new FittedThermometers(oneWire, config, offsets),
        offsets);
  }

  FittedSensors(
      ChipCatalog catalog,
      I2cBus i2c,
      ChipContext context,
      FittedThermometers thermometers,
      CurrentOffsets offsets) {
    this.catalog = catalog;
    this.i2c = i2c;
    this.context = context;
    this.thermometers = thermometers;
    this.offsets = offsets;
  }

  @Override
  public List<Sensor> get() {
    Duration now = context.pace().uptime();
    if (lookedAt.isEmpty() || now.minus(lookedAt.get()).compareTo(LOOK_AGAIN) >= 0) {
      lookedAt = Optional.of(now);
      look();
    }
    List<Sensor> all = new ArrayList<>();
    for (ChipKind kind : catalog.kinds()) {
      if (kind instanceof OneWireChip) {
        all.addAll(thermometers.sensors());
      } else if (chips.containsKey(kind.name())) {
        chips.get(kind.name()).sensor().ifPresent(all::add);
      }
    }
    all.addAll(troubles);
    return all.isEmpty() ? List.of(new Trouble("sensors", NOTHING)) : all;
  }

  /** The kinds of chip that are looked for. */
  public ChipCatalog catalog() {
    return catalog;
  }

  /** Where a sensor was found, in words; empty for one that was not. */
  public String place(Sensor sensor) {
    return places.getOrDefault(sensor.name(), "");
  }

  private void look() {
    troubles.clear();
    try {
      lookOnI2c();
    } catch (BusFault e) {
      troubles.add(new Trouble("I2C bus", e.reason()));
    }
    try {
      thermometers.look();
    } catch (BusFault e) {
      troubles.add(new Trouble("1-wire bus", e.reason()));
    }
  }

  private void lookOnI2c() throws BusFault {
    List<Probe> probes = new ArrayList<>();
    for (I2cChip kind : catalog.onI2c()) {
      if (!chips.containsKey(kind.name())) {
        for (int address : kind.addresses()) {
          probes.add(new Probe(kind, address, kind.driver().open(i2c.device(address), context)));
        }
      }
    }
    probes.forEach(probe -> probe.candidate().prepare());
    for (Probe probe : probes) {
      if (!chips.containsKey(probe.kind().name()) && probe.candidate().present()) {
        fit(probe);
      }
    }
  }

  private void fit(Probe probe) {
    FittedChip chip = fitted(probe);
    chips.put(probe.kind().name(), chip);
    String name = chip.sensor().map(Sensor::name).orElse(probe.kind().name());
    Logger.info("Found {} {}", name, place(probe));
    for (String outranked : probe.kind().outranks()) {
      chips.computeIfPresent(outranked, (kind, lesser) -> fitted(lesser.probe()));
    }
  }

  /** The chip's sensor beside all that were found by now. */
  private FittedChip fitted(Probe probe) {
    boolean besideBetter =
        catalog.onI2c().stream()
            .filter(kind -> kind.outranks().contains(probe.kind().name()))
            .anyMatch(kind -> chips.containsKey(kind.name()));
    Optional<Sensor> sensor =
        probe
            .candidate()
            .sensor(besideBetter)
            .map(found -> CorrectedSensor.of(found, offsets, Optional.empty()));
    sensor.ifPresent(found -> places.put(found.name(), place(probe)));
    return new FittedChip(probe, sensor);
  }

  private static String place(Probe probe) {
    return "at I2C address " + I2cChip.hex(probe.address()) + " on bus 1";
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
