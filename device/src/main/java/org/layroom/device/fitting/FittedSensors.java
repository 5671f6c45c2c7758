package org.layroom.device.fitting;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Supplier;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cBus;
import org.layroom.device.bus.I2cDevice;
import org.layroom.device.bus.OneWire;
import org.layroom.device.chip.ChipRead;
import org.layroom.device.chip.Lookalike;
import org.layroom.device.config.DeviceConfig;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.CorrectedSensor;
import org.layroom.device.sampling.CurrentCleanAir;
import org.layroom.device.sampling.CurrentOffsets;
import org.layroom.device.sampling.Sensor;
import org.tinylog.Logger;

/**
 * The sensors that are plugged in: the chips of the catalog, looked for at their addresses at the
 * start, and again every minute for those not yet found. One that was found stays, so that its loss
 * is a fault; so does a thermometer that the settings name, found or not.
 */
public final class FittedSensors implements Supplier<List<? extends Sensor>> {
  private static final Duration LOOK_AGAIN = Duration.ofMinutes(1);

  /** A second chip of a kind is looked for at the first look, and at each so many later. */
  private static final int LOOKS_FOR_A_SECOND = 60;

  private static final String NOTHING =
      "no sensor found at any known address: check connectors, wires and raspi-config";

  private final ChipCatalog catalog;
  private final SortedMap<Integer, I2cBus> buses;
  private final ChipContext context;
  private final CurrentOffsets offsets;
  private final FittedThermometers thermometers;
  private final Map<String, String> places = new TreeMap<>();
  private final Map<String, FittedChip> chips = new TreeMap<>();
  private final List<Sensor> troubles = new ArrayList<>();
  private final List<Sensor> seconds = new ArrayList<>();
  private Optional<Duration> lookedAt = Optional.empty();
  private int looks;

  /** A driver opened at one of its kind's addresses. */
  private record Probe(I2cChip kind, int bus, int address, ChipCandidate candidate) {
    String place() {
      return "at I2C address " + I2cChip.hex(address) + " on bus " + bus;
    }

    boolean isAt(Probe other) {
      return bus == other.bus && address == other.address;
    }
  }

  /** A chip that was found, with what it gives: nothing where a better one gives it all. */
  private record FittedChip(Probe probe, Optional<Sensor> sensor) {}

  /** The sensors on bus 1, where nothing is remembered over a restart. */
  public FittedSensors(
      I2cBus i2c, OneWire oneWire, Pace pace, DeviceConfig config, CurrentCleanAir cleanAir) {
    this(
        new TreeMap<>(Map.of(1, i2c)),
        oneWire,
        pace,
        config,
        cleanAir,
        new CurrentOffsets(config.offsets()),
        MoldMemory.forgetful());
  }

  /**
   * The sensors on some buses.
   *
   * @param buses by their numbers; of two chips of a kind the one on the lowest is used
   */
  public FittedSensors(
      SortedMap<Integer, I2cBus> buses,
      OneWire oneWire,
      Pace pace,
      DeviceConfig config,
      CurrentCleanAir cleanAir,
      CurrentOffsets offsets,
      MoldMemory mold) {
    this(
        ChipCatalog.standard(),
        buses,
        new ChipContext(pace, config.chips(), cleanAir, Optional.empty()),
        new FittedThermometers(oneWire, config, offsets, mold),
        offsets);
  }

  FittedSensors(
      ChipCatalog catalog,
      SortedMap<Integer, I2cBus> buses,
      ChipContext context,
      FittedThermometers thermometers,
      CurrentOffsets offsets) {
    this.catalog = catalog;
    this.buses = buses;
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
        all.addAll(thermometers.forARound());
      } else if (chips.containsKey(kind.name())) {
        chips.get(kind.name()).sensor().ifPresent(all::add);
      }
    }
    all.addAll(seconds);
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

  /** Thermometers that are there and have no role, by id, with what they read now. */
  public Map<String, ChipRead<Double>> namelessThermometers() {
    return thermometers.readNameless();
  }

  /** Whether every bus can be opened and nothing at all answers. */
  public boolean allOfI2cIsSilent() {
    return chips.isEmpty() && troubles.stream().noneMatch(trouble -> isOfI2c(trouble.name()));
  }

  private static boolean isOfI2c(String name) {
    return name.startsWith("I2C bus") || name.startsWith("wrong chip");
  }

  private void look() {
    troubles.clear();
    buses.forEach(this::lookOn);
    if (looks++ % LOOKS_FOR_A_SECOND == 0) {
      seconds.clear();
      buses.forEach(this::lookForASecondOn);
    }
    try {
      thermometers.look();
    } catch (BusFault e) {
      troubles.add(new Trouble("1-wire bus", e.reason()));
    }
  }

  private void lookOn(int number, I2cBus bus) {
    try {
      List<Probe> probes = new ArrayList<>();
      for (I2cChip kind : catalog.onI2c()) {
        if (!chips.containsKey(kind.name())) {
          probes.addAll(probes(kind, number, bus));
        }
      }
      probes.forEach(probe -> probe.candidate().prepare());
      for (Probe probe : probes) {
        if (!chips.containsKey(probe.kind().name()) && probe.candidate().present()) {
          fit(probe);
        }
      }
      for (Probe probe : probes) {
        if (!chips.containsKey(probe.kind().name())) {
          nameLookalike(probe, bus.device(probe.address()));
        }
      }
    } catch (BusFault e) {
      troubles.add(new Trouble(buses.size() > 1 ? "I2C bus " + number : "I2C bus", e.reason()));
    }
  }

  private List<Probe> probes(I2cChip kind, int number, I2cBus bus) throws BusFault {
    List<Probe> probes = new ArrayList<>();
    for (int address : kind.addresses()) {
      ChipCandidate candidate = kind.driver().open(bus.device(address), context);
      probes.add(new Probe(kind, number, address, candidate));
    }
    return probes;
  }

  private void nameLookalike(Probe probe, I2cDevice device) {
    Lookalike.at(probe.address(), device, context.pace())
        .ifPresent(
            other ->
                troubles.add(
                    new Trouble("wrong chip " + probe.place(), "this is " + other.words())));
  }

  private void lookForASecondOn(int number, I2cBus bus) {
    for (I2cChip kind : catalog.onI2c()) {
      FittedChip first = chips.get(kind.name());
      if (first == null) {
        continue;
      }
      try {
        for (Probe probe : probes(kind, number, bus)) {
          if (!probe.isAt(first.probe()) && probe.candidate().present()) {
            seconds.add(
                new Trouble(
                    "second " + kind.name() + " " + probe.place(),
                    "it is not used: one chip of a kind is read, the one "
                        + first.probe().place()));
          }
        }
      } catch (BusFault e) {
        Logger.debug("No second {} looked for on bus {}: {}", kind.name(), number, e.reason());
      }
    }
  }

  private void fit(Probe probe) {
    FittedChip chip = fitted(probe);
    chips.put(probe.kind().name(), chip);
    String name = chip.sensor().map(Sensor::name).orElse(probe.kind().name());
    Logger.info("Found {} {}", name, probe.place());
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
            .map(
                found ->
                    besideBetter ? found : CorrectedSensor.of(found, offsets, Optional.empty()));
    sensor.ifPresent(found -> places.put(found.name(), probe.place()));
    return new FittedChip(probe, sensor);
  }
}
