package org.layroom.device.alarm;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.DeviceSettings;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
import org.layroom.device.telemetry.RoomVerdict;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirEvent;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.AirWarning.Sound;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.LeaveLevels;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.VaporWatch;
import org.layroom.predictor.vapor.WatchSettings;
import org.layroom.predictor.verdict.State;
import org.tinylog.Logger;

/**
 * The alarm in the room: hears every sample, steps the warning machine, and drives lamps and
 * buzzer, with no network at all. It counts time by the device's running time, so that a wall clock
 * that is set meanwhile changes no average. Safe for several threads.
 */
public final class LocalAlarm implements Consumer<Sample>, AutoCloseable {
  /** How often the lines are set: half of the fastest flash. */
  static final Duration BEAT = Duration.ofMillis(250);

  /** Without lines only the passing of time has to be seen. */
  private static final Duration UNWIRED_BEAT = Duration.ofSeconds(5);

  private final Pace pace;
  private final Optional<AlarmBoard> board;
  private final Consumer<AlarmState> listener;
  private final AlarmStore store;
  private final WatchedAir air;
  private final MixLamp mix = new MixLamp();
  private Pace.Scheduled beat = () -> {};
  private Duration testedAt;
  private Optional<Mute> mute = Optional.empty();
  private List<PartFault> faults = List.of();
  private Optional<Instant> settingsDecided = Optional.empty();
  private String settingsBy = "";

  private LocalAlarm(
      Pace pace,
      Function<Boolean, Optional<AlarmBoard>> board,
      WatchSettings settings,
      Consumer<AlarmState> listener,
      AlarmStore store) {
    this.pace = pace;
    this.listener = listener;
    this.store = store;
    air = new WatchedAir(pace, settings, store);
    this.board = board.apply(air.fanRanOn());
    testedAt = pace.uptime();
  }

  /**
   * An alarm with lamps and buzzer, which tests them first. A line that cannot be taken is told as
   * a fault.
   *
   * @param listener told on the calling thread whenever the standing warning changes
   * @param store goes on by what it has kept; closed with the alarm
   */
  public static LocalAlarm wired(
      Pace pace,
      Gpio gpio,
      AlarmLines lines,
      WatchSettings settings,
      Consumer<AlarmState> listener,
      AlarmStore store) {
    LocalAlarm alarm =
        new LocalAlarm(
            pace,
            fanOn -> Optional.of(new AlarmBoard(gpio, lines, fanOn)),
            settings,
            listener,
            store);
    alarm.begin();
    return alarm;
  }

  /** The same, keeping nothing over a restart. */
  public static LocalAlarm wired(
      Pace pace,
      Gpio gpio,
      AlarmLines lines,
      WatchSettings settings,
      Consumer<AlarmState> listener) {
    return wired(pace, gpio, lines, settings, listener, AlarmStore.none());
  }

  /** An alarm that has nothing to light or sound here and tells the listener alone. */
  public static LocalAlarm unwired(
      Pace pace, WatchSettings settings, Consumer<AlarmState> listener, AlarmStore store) {
    LocalAlarm alarm = new LocalAlarm(pace, fanOn -> Optional.empty(), settings, listener, store);
    alarm.begin();
    return alarm;
  }

  /** The same, keeping nothing over a restart. */
  public static LocalAlarm unwired(
      Pace pace, WatchSettings settings, Consumer<AlarmState> listener) {
    return unwired(pace, settings, listener, AlarmStore.none());
  }

  private void begin() {
    listener.accept(report());
    show();
    beat = pace.every(board.isPresent() ? BEAT : UNWIRED_BEAT, this::onBeat);
  }

  /**
   * Switches off whatever a program that was killed has left on; the fan goes as its settings say.
   *
   * @param kept what that program kept
   * @throws BusFault when a line cannot be taken or set
   */
  public static void dark(Gpio gpio, AlarmLines lines, Optional<AlarmMemory> kept) throws BusFault {
    AlarmBoard board = new AlarmBoard(gpio, lines, kept.filter(AlarmMemory::fanOn).isPresent());
    board.dark(kept.filter(AlarmMemory::mayExplode).isPresent(), Duration.ZERO);
    if (!board.faults().isEmpty()) {
      throw new BusFault(
          board.faults().stream()
              .map(fault -> fault.part() + ": " + fault.reason())
              .collect(Collectors.joining("; ")));
    }
  }

  @Override
  public synchronized void accept(Sample sampled) {
    mix.accept(sampled);
    if (air.accept(sampled)) {
      listener.accept(report());
    }
    step(at -> air.event(sampled));
  }

  /** Somebody starts a job; it is over at {@code length} from now at the latest. */
  public synchronized void jobStarted(
      Duration length, String who, boolean fanOn, boolean respiratorOn) {
    step(at -> new AirEvent.JobStarted(at, at.plus(length), who, fanOn, respiratorOn));
  }

  public synchronized void jobEnded() {
    step(AirEvent.JobEnded::new);
  }

  /** A clean-air reading was taken on purpose. */
  public synchronized void cleanAir(CleanAirReading reading) {
    step(at -> new AirEvent.CleanAirTaken(at, reading));
  }

  /** From which level somebody must leave, as the jobs of this chip have taught upstairs. */
  public synchronized void levels(LeaveLevels levels) {
    step(at -> new AirEvent.LevelsLearned(at, levels));
  }

  /** Somebody wipes with solvent: ventilate makes no sound for a quarter of an hour. */
  public synchronized void wiping() {
    step(AirEvent.Wiping::new);
  }

  /**
   * Takes what was decided upstairs, where it is newer than what this device goes by. A device on
   * the house side of the door stays so whoever says it: nothing quiets its warnings.
   */
  public synchronized void decided(DeviceSettings settings) {
    if (settingsDecided.filter(known -> !settings.decided().isAfter(known)).isPresent()) {
      return;
    }
    settingsDecided = Optional.of(settings.decided());
    settingsBy = settings.by();
    settings.cleanAir().ifPresent(this::cleanAirUpstairs);
    levels(settings.leave().orElse(LeaveLevels.FIRST));
    settings.wiping().filter(settings.decided()::equals).ifPresent(at -> wiping());
    step(at -> new AirEvent.Doubted(at, settings.doubt()));
    if (settings.houseSide()) {
      step(AirEvent.MovedToHouseSide::new);
    }
    jobUpstairs(settings);
    listener.accept(report());
  }

  private void cleanAirUpstairs(DeviceSettings.CleanAir upstairs) {
    Optional<CleanAirReading> known =
        air.watch().settings().sensor() instanceof VaporSensor.Chip chip
            ? chip.cleanAir()
            : Optional.empty();
    if (known.filter(one -> !upstairs.taken().isAfter(one.taken())).isEmpty()) {
      cleanAir(
          new CleanAirReading(
              upstairs.raw(), upstairs.taken(), upstairs.temperatureC(), upstairs.humidityPct()));
    }
  }

  /**
   * Without a clock to be believed a job is taken to begin now and to last as long as planned; by a
   * clock that is late it lasts no longer than that either.
   */
  private void jobUpstairs(DeviceSettings settings) {
    if (settings.job().isEmpty()) {
      step(AirEvent.JobEnded::new);
      return;
    }
    DeviceSettings.Job job = settings.job().get();
    Instant from = pace.wallClockSet() ? pace.now() : job.started();
    Duration planned = Duration.between(job.started(), job.until());
    Duration remaining = Duration.between(from, job.until());
    Duration left = remaining.compareTo(planned) < 0 ? remaining : planned;
    if (left.isNegative() || left.isZero()) {
      step(AirEvent.JobEnded::new);
    } else {
      jobStarted(left, job.who(), job.fanOn(), job.respiratorOn());
    }
  }

  /**
   * Takes the dashboard's mix check, which counts for three minutes, and the can's temperatures.
   */
  public synchronized void told(RoomVerdict verdict) {
    mix.told(verdict, pace.uptime());
    show();
  }

  /** Somebody has seen a warning; one that does not stand now is ignored. */
  public synchronized void acknowledged(Acknowledgment seen) {
    told(air.acknowledged(seen.id(), seen.who()));
  }

  /** The state now. */
  public synchronized VaporWatch watch() {
    return air.watch();
  }

  /** The parts of the alarm that do not work now. */
  public synchronized List<PartFault> faults() {
    return faults;
  }

  private void step(Function<Instant, AirEvent> event) {
    told(air.step(event));
  }

  private void told(boolean news) {
    if (news) {
      listener.accept(report());
    }
    show();
  }

  private AlarmState report() {
    Optional<Instant> cleanAir =
        air.watch().settings().sensor() instanceof VaporSensor.Chip chip
            ? chip.cleanAir().map(CleanAirReading::taken)
            : Optional.empty();
    return air.report(new AlarmState.Uses(settingsDecided, settingsBy, cleanAir));
  }

  private synchronized void onBeat() {
    if (board.isPresent()) {
      switch (board.get().button(pace.uptime())) {
        case MUTE ->
            air.warning()
                .ifPresent(one -> mute = Mute.pressed(mute, one.id(), one.call(), pace.uptime()));
        case TEST -> test();
        case NOTHING -> {}
      }
    }
    step(AirEvent.TimePassed::new);
  }

  /** Lamps and buzzer one after another, and the fan; not over a call to leave. */
  private void test() {
    if (air.warning().filter(one -> one.call() == AirCall.LEAVE).isEmpty()) {
      testedAt = pace.uptime();
      board.ifPresent(lines -> lines.testFan(pace.uptime()));
    }
  }

  private void show() {
    board.ifPresent(
        lines -> {
          lines.show(signal(), air.forTheFan(), air.mayExplode(), pace.uptime());
          List<PartFault> now = lines.faults();
          if (!now.equals(faults)) {
            now.forEach(fault -> Logger.warn("Alarm: {}: {}", fault.part(), fault.reason()));
          }
          faults = now;
        });
    air.keep(board.map(AlarmBoard::fanOn).orElse(false));
  }

  /** What is lit and heard now. */
  synchronized LampSignal signal() {
    Duration tested = pace.uptime().minus(testedAt);
    if (LampSignal.testing(tested)) {
      return LampSignal.test(tested);
    }
    State ready = mix.state(air.watch(), pace.uptime());
    if (air.warning().isEmpty()) {
      return LampSignal.of(AirCall.OK, ready, Sound.SILENT, Duration.ZERO, pace.uptime(), false);
    }
    AirWarning warning = air.warning().get();
    boolean muted = mute.filter(one -> one.silences(warning.id(), pace.uptime())).isPresent();
    return LampSignal.of(
        warning.call(), ready, warning.sound(), air.since(warning), pace.uptime(), muted);
  }

  /** Lamps and buzzer go off, the fan as its settings say. */
  @Override
  public synchronized void close() {
    beat.cancel();
    board.ifPresent(lines -> lines.dark(air.mayExplode(), pace.uptime()));
    store.close();
  }
}
