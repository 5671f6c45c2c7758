package org.layroom.device.alarm;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.function.Function;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.DeviceSettings;
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
  private final Duration started;
  private final String run;
  private Pace.Scheduled beat = () -> {};
  private Instant zero;
  private boolean zeroBelieved;
  private WallTimes toWall = WallTimes.AS_SHOWN;
  private VaporWatch watch;
  private final MixLamp mix = new MixLamp();
  private Optional<Mute> mute = Optional.empty();
  private boolean wasPressed;
  private List<String> faults = List.of();
  private Optional<Instant> settingsDecided = Optional.empty();
  private String settingsBy = "";

  private LocalAlarm(
      Pace pace,
      Optional<AlarmBoard> board,
      WatchSettings settings,
      Consumer<AlarmState> listener) {
    this.pace = pace;
    this.board = board;
    this.listener = listener;
    started = pace.uptime();
    run = UUID.randomUUID().toString().substring(0, 8);
    zero = pace.now().minus(started);
    zeroBelieved = pace.wallClockSet();
    watch = VaporWatch.started(settings, pace.now());
  }

  /**
   * An alarm with lamps and buzzer, which tests them first.
   *
   * @param listener told on the calling thread whenever the standing warning changes
   * @throws BusFault when a line cannot be taken
   */
  public static LocalAlarm wired(
      Pace pace, Gpio gpio, AlarmLines lines, WatchSettings settings, Consumer<AlarmState> listener)
      throws BusFault {
    LocalAlarm alarm =
        new LocalAlarm(pace, Optional.of(new AlarmBoard(gpio, lines)), settings, listener);
    alarm.begin();
    return alarm;
  }

  /** An alarm that has nothing to light or sound here and tells the listener alone. */
  public static LocalAlarm unwired(
      Pace pace, WatchSettings settings, Consumer<AlarmState> listener) {
    LocalAlarm alarm = new LocalAlarm(pace, Optional.empty(), settings, listener);
    alarm.begin();
    return alarm;
  }

  private void begin() {
    listener.accept(report());
    show();
    beat = pace.every(board.isPresent() ? BEAT : UNWIRED_BEAT, this::onBeat);
  }

  /**
   * Switches off whatever a program that was killed has left on.
   *
   * @throws BusFault when a line cannot be taken or set
   */
  public static void dark(Gpio gpio, AlarmLines lines) throws BusFault {
    List<String> faults = new AlarmBoard(gpio, lines).dark();
    if (!faults.isEmpty()) {
      throw new BusFault(String.join("; ", faults));
    }
  }

  @Override
  public synchronized void accept(Sample sampled) {
    mix.accept(sampled);
    if (sampled.wallClockSet() && !zeroBelieved) {
      believe(sampled.wall().minus(sampled.uptime()), sampled.uptime());
    }
    step(at -> event(sampled, zero.plus(sampled.uptime())));
  }

  /** The clock is set: the watch goes on by it, and its times are told by it from now on. */
  private void believe(Instant real, Duration uptime) {
    Instant shown = zero.plus(uptime);
    toWall = new WallTimes(shown, Duration.between(zero, real));
    zero = real.isAfter(zero) ? real : zero;
    zeroBelieved = true;
    listener.accept(report());
  }

  private AirEvent event(Sample sampled, Instant time) {
    VaporSensor sensor = watch.settings().sensor();
    return AirEvents.of(sensor, time, sampled.readings())
        .orElseGet(
            () ->
                new AirEvent.Failed(
                    time,
                    sensor instanceof VaporSensor.Pid
                        ? "no vapor detector answers"
                        : "no vapor sensor answers"));
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
    settings.leave().ifPresent(this::levels);
    settings.wiping().filter(settings.decided()::equals).ifPresent(at -> wiping());
    if (settings.houseSide()) {
      step(AirEvent.MovedToHouseSide::new);
    }
    jobUpstairs(settings);
    listener.accept(report());
  }

  private void cleanAirUpstairs(DeviceSettings.CleanAir upstairs) {
    Optional<CleanAirReading> known =
        watch.settings().sensor() instanceof VaporSensor.Chip chip
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
    AlarmReport.warningId(seen.id(), run)
        .ifPresent(id -> step(at -> new AirEvent.Acknowledged(at, id, seen.who())));
  }

  /** The state now. */
  public synchronized VaporWatch watch() {
    return watch;
  }

  private void step(Function<Instant, AirEvent> event) {
    VaporWatch before = watch;
    watch = watch.plus(event.apply(zero.plus(pace.uptime())));
    if (changed(before, watch)) {
      listener.accept(report());
    }
    show();
  }

  private AlarmState report() {
    Optional<Instant> cleanAir =
        watch.settings().sensor() instanceof VaporSensor.Chip chip
            ? chip.cleanAir().map(CleanAirReading::taken)
            : Optional.empty();
    return AlarmReport.of(
        watch,
        run,
        zeroBelieved ? Optional.of(toWall) : Optional.empty(),
        new AlarmState.Uses(settingsDecided, settingsBy, cleanAir));
  }

  private static boolean changed(VaporWatch before, VaporWatch after) {
    return !key(before.warning()).equals(key(after.warning()));
  }

  private static Optional<String> key(Optional<AirWarning> warning) {
    return warning.map(one -> one.id() + " " + one.acknowledged().isPresent());
  }

  private synchronized void onBeat() {
    boolean pressed = board.isPresent() && board.get().pressed();
    if (pressed && !wasPressed) {
      watch
          .warning()
          .ifPresent(one -> mute = Mute.pressed(mute, one.id(), one.call(), pace.uptime()));
    }
    wasPressed = pressed;
    step(AirEvent.TimePassed::new);
  }

  private void show() {
    board.ifPresent(
        lines -> {
          List<String> now = lines.show(signal(), watch.call(), pace.uptime());
          if (!now.equals(faults)) {
            now.forEach(fault -> Logger.warn("Alarm: {}", fault));
          }
          faults = now;
        });
  }

  private LampSignal signal() {
    Duration running = pace.uptime().minus(started);
    if (LampSignal.testing(running)) {
      return LampSignal.test(running);
    }
    State ready = mix.state(watch, pace.uptime());
    if (watch.warning().isEmpty()) {
      return LampSignal.of(AirCall.OK, ready, Sound.SILENT, Duration.ZERO, running, false);
    }
    AirWarning warning = watch.warning().get();
    Duration since = Duration.between(warning.since(), zero.plus(pace.uptime()));
    boolean muted = mute.filter(one -> one.silences(warning.id(), pace.uptime())).isPresent();
    return LampSignal.of(
        warning.call(),
        ready,
        warning.sound(),
        since.isNegative() ? Duration.ZERO : since,
        running,
        muted);
  }

  /** Switches all lines off. */
  @Override
  public synchronized void close() {
    beat.cancel();
    board.ifPresent(AlarmBoard::dark);
  }
}
