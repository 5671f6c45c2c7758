package org.layroom.device.startup;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Consumer;
import org.layroom.device.alarm.AlarmLines;
import org.layroom.device.alarm.AlarmStore;
import org.layroom.device.alarm.LampCheck;
import org.layroom.device.alarm.LocalAlarm;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Hardware;
import org.layroom.device.bus.I2cBus;
import org.layroom.device.bus.KernelGpio;
import org.layroom.device.bus.KernelOneWire;
import org.layroom.device.bus.PowerSupply;
import org.layroom.device.config.DeviceConfig;
import org.layroom.device.fitting.FittedSensors;
import org.layroom.device.fitting.MoldMemory;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxOptions;
import org.layroom.device.pace.Pace;
import org.layroom.device.pace.RealPace;
import org.layroom.device.pace.ScaledPace;
import org.layroom.device.publishing.Publisher;
import org.layroom.device.publishing.SampleDelivery;
import org.layroom.device.sampling.CleanAir;
import org.layroom.device.sampling.Crosscheck;
import org.layroom.device.sampling.CurrentCleanAir;
import org.layroom.device.sampling.CurrentOffsets;
import org.layroom.device.sampling.Sampler;
import org.layroom.device.simulated.SimulatedBench;
import org.layroom.device.simulated.SimulatedShop;
import org.layroom.device.state.AlarmFile;
import org.layroom.device.state.DashboardDecisions;
import org.layroom.device.state.MoldThermometer;
import org.layroom.device.state.SampleStorage;
import org.layroom.device.state.SelectedMaterial;
import org.layroom.device.supervision.Supervision;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
import org.tinylog.Logger;

/**
 * A device with everything in it, from buses to broker; closed in the opposite order. Lamps, buzzer
 * and fan come first, since they need neither outbox nor broker.
 */
final class RunningDevice implements AutoCloseable {
  private static final long NOISE_SEED = 1;

  private final List<AutoCloseable> rooms;
  private final String summary;

  private RunningDevice(List<AutoCloseable> rooms, String summary) {
    this.rooms = rooms;
    this.summary = summary;
  }

  /**
   * Starts to measure and to connect.
   *
   * @throws IllegalArgumentException when a setting does not go with the others
   * @throws BusFault when this is not a computer with the buses of a Pi
   * @throws IOException when the outbox cannot be opened
   */
  static RunningDevice start(DeviceConfig config, boolean simulate) throws IOException, BusFault {
    if (config.speed() != 1 && !simulate) {
      throw new IllegalArgumentException(
          "speed "
              + config.speed()
              + ": only a simulated room can run faster than real time;"
              + " add --simulate");
    }
    List<AutoCloseable> rooms = new ArrayList<>();
    try {
      return start(config, simulate, rooms);
    } catch (IOException | BusFault | RuntimeException e) {
      closeAll(rooms);
      throw e;
    }
  }

  private static RunningDevice start(
      DeviceConfig config, boolean simulate, List<AutoCloseable> rooms)
      throws IOException, BusFault {
    RealPace real = new RealPace();
    rooms.add(real);
    Pace pace = simulate ? new ScaledPace(real.now(), config.speed()) : real;
    rooms.add(pace);
    DeviceConfig settings = simulate ? withSimulatedCleanAir(config, pace) : config;
    KernelOneWire oneWire = new KernelOneWire(KernelOneWire.DEVICES, pace);
    Optional<Hardware> hardware = simulate ? Optional.empty() : Optional.of(opened(oneWire));
    hardware.ifPresent(rooms::add);
    AlarmRelay told = new AlarmRelay();
    Pace alarmPace = simulate ? pace : real.withThread("layroom-alarm");
    rooms.add(alarmPace);
    AlarmStore recorded =
        simulate
            ? AlarmStore.none()
            : new AlarmFile(config.data(), real.withThread("layroom-alarm-file"));
    LocalAlarm alarm = alarm(settings, alarmPace, hardware, told, recorded);
    rooms.add(alarm);
    CurrentCleanAir cleanAir = new CurrentCleanAir(settings.cleanAir());
    CurrentOffsets offsets = new CurrentOffsets(config.offsets());
    FittedSensors sensors =
        hardware.isPresent()
            ? new FittedSensors(
                buses(hardware.get(), settings),
                oneWire,
                pace,
                settings,
                cleanAir,
                offsets,
                new MoldThermometer(config.data()))
            : simulated(settings, pace, cleanAir, offsets);
    SampleStorage kept =
        SampleStorage.in(
            config.data().resolve("outbox"), OutboxOptions.standard(config.samplePeriod()));
    Outbox outbox = kept.outbox();
    rooms.add(outbox);
    Publisher publisher = new Publisher(config.broker(), config.channel(), outbox, pace);
    rooms.add(publisher);
    told.bind(publisher::alarm);
    publisher.onAcknowledged(alarm::acknowledged);
    DashboardDecisions decisions = new DashboardDecisions(config.data(), cleanAir, offsets, alarm);
    decisions.recall();
    publisher.onSettings(decisions::take);
    SelectedMaterial can = new SelectedMaterial(config.data(), alarm);
    can.recall();
    publisher.onVerdict(can::take);
    Heartbeat heartbeat = new Heartbeat(real, Supervision.ofThisProcess(), config.samplePeriod());
    Sampler sampler =
        new Sampler(
                pace,
                sensors,
                alarm
                    .andThen(
                        new SampleDelivery(outbox, publisher, offsets, () -> faults(kept, alarm)))
                    .andThen(heartbeat))
            .comparing(new Crosscheck());
    publisher.start();
    pace.after(Duration.ZERO, sampler::sampleOnce);
    rooms.add(sampler.every(config.samplePeriod())::cancel);
    heartbeat.start();
    return new RunningDevice(
        rooms,
        "room=%s device=%s broker=%s outbox=%s%s"
            .formatted(
                config.channel().room(),
                config.channel().device(),
                config.broker().uri(),
                outbox.name(),
                simulate ? " simulated" : ""));
  }

  /**
   * Looks once at what is wired; keeps and sends nothing.
   *
   * @throws BusFault when this is not a computer with the buses of a Pi
   */
  static WiringCheck check(DeviceConfig config, boolean simulate) throws BusFault {
    List<AutoCloseable> rooms = new ArrayList<>();
    try {
      RealPace pace = new RealPace();
      rooms.add(pace);
      if (simulate) {
        return WiringCheck.of(
            simulated(
                config,
                pace,
                new CurrentCleanAir(config.cleanAir()),
                new CurrentOffsets(config.offsets())),
            pace);
      }
      KernelOneWire oneWire = new KernelOneWire(KernelOneWire.DEVICES, pace);
      Hardware hardware = opened(oneWire);
      rooms.add(hardware);
      WiringCheck check =
          WiringCheck.of(
              new FittedSensors(
                  buses(hardware, config),
                  oneWire,
                  pace,
                  config,
                  new CurrentCleanAir(config.cleanAir()),
                  new CurrentOffsets(config.offsets()),
                  MoldMemory.forgetful()),
              pace);
      ServiceAccess access = new ServiceAccess(Path.of("/"));
      check =
          check
              .with(access.notAPi().stream().toList())
              .with(access.faults(config.i2cBuses(), config.alarm().isPresent()))
              .with(
                  PowerSupply.ofThisComputer().trouble().stream()
                      .map(words -> "fault  power supply: " + words)
                      .toList())
              .with(List.of(pace.clockWords()));
      if (config.alarm().isEmpty()) {
        return check;
      }
      check = check.with(new LampCheck(hardware.gpio(), config.alarm().get()).taken());
      if (KernelGpio.ofThisComputer().keepsOutputs()) {
        return check.withLinesThatStay();
      }
      return config.alarm().get().fanIsToStay() ? check.withAFanThatFalls() : check;
    } finally {
      closeAll(rooms);
    }
  }

  /**
   * Switches lamps, buzzer and fan on, one after another.
   *
   * @return whether every line could be set
   * @throws BusFault when this is not a computer with the lines of a Pi
   */
  static boolean testLamps(DeviceConfig config, Consumer<String> out)
      throws BusFault, InterruptedException {
    if (config.alarm().isEmpty()) {
      out.accept("none   no lamp, buzzer or fan has a line in the settings");
      return true;
    }
    try (Hardware hardware = Hardware.open();
        RealPace pace = new RealPace()) {
      return new LampCheck(hardware.gpio(), config.alarm().get()).test(pace, out);
    }
  }

  /**
   * Switches lamps and buzzer off and the fan as its settings say, where their lines are named: for
   * what a program that was killed has left on.
   *
   * @param data where that program has kept its state
   * @throws BusFault when this is not a computer with the lines of a Pi, or one cannot be set
   */
  static void dark(Optional<AlarmLines> lines, Path data) throws BusFault {
    if (lines.isPresent()) {
      try (Hardware hardware = Hardware.open()) {
        LocalAlarm.dark(hardware.gpio(), lines.get(), AlarmFile.left(data));
      }
    }
  }

  /** Opens the buses; the thermometers, which take 0.77 s each, are read meanwhile. */
  private static Hardware opened(KernelOneWire oneWire) throws BusFault {
    oneWire.readAhead();
    return Hardware.open();
  }

  private static FittedSensors simulated(
      DeviceConfig config, Pace pace, CurrentCleanAir cleanAir, CurrentOffsets offsets) {
    Instant start = pace.now();
    Duration uptimeThen = pace.uptime();
    SimulatedShop shop = new SimulatedShop(start, ZoneId.systemDefault(), NOISE_SEED);
    SimulatedBench bench =
        new SimulatedBench(
            () -> {
              shop.advanceTo(start.plus(pace.uptime().minus(uptimeThen)));
              return shop.truth();
            },
            pace::uptime);
    return new FittedSensors(
        new TreeMap<>(Map.of(1, bench.i2c())),
        bench.oneWire(),
        pace,
        config.withThermometersOr(SimulatedBench.MOLD_ID, SimulatedBench.RESIN_ID),
        cleanAir,
        offsets,
        MoldMemory.forgetful());
  }

  private static SortedMap<Integer, I2cBus> buses(Hardware hardware, DeviceConfig config)
      throws BusFault {
    SortedMap<Integer, I2cBus> buses = new TreeMap<>();
    for (int number : config.i2cBuses()) {
      buses.put(number, hardware.i2c(number));
    }
    return buses;
  }

  private static DeviceConfig withSimulatedCleanAir(DeviceConfig config, Pace pace) {
    return config.withCleanAirOr(new CleanAir(SimulatedShop.cleanAirTicks(), pace.now()));
  }

  private static List<PartFault> faults(SampleStorage kept, LocalAlarm alarm) {
    List<PartFault> faults = new ArrayList<>(kept.faults());
    faults.addAll(alarm.faults());
    PowerSupply.ofThisComputer()
        .trouble()
        .ifPresent(words -> faults.add(new PartFault("power supply", words)));
    return faults;
  }

  /** Lamps and buzzer where their lines are named; the warnings are worked out in any case. */
  private static LocalAlarm alarm(
      DeviceConfig config,
      Pace pace,
      Optional<Hardware> hardware,
      Consumer<AlarmState> told,
      AlarmStore recorded)
      throws BusFault {
    return hardware.isPresent() && config.alarm().isPresent()
        ? LocalAlarm.wired(
            pace,
            hardware.get().gpio(),
            config.alarm().get(),
            config.watchSettings(),
            told,
            recorded)
        : LocalAlarm.unwired(pace, config.watchSettings(), told, recorded);
  }

  /** Who this device is, in one line. */
  String summary() {
    return summary;
  }

  @Override
  public void close() {
    closeAll(rooms);
  }

  private static void closeAll(List<AutoCloseable> rooms) {
    List<AutoCloseable> lastFirst = new ArrayList<>(rooms);
    Collections.reverse(lastFirst);
    for (AutoCloseable room : lastFirst) {
      try {
        room.close();
      } catch (Exception e) {
        Logger.warn("While stopping: {}", e.getMessage());
      }
    }
  }
}
