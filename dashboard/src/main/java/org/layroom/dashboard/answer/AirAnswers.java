package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Supplier;
import org.layroom.dashboard.decision.AirJob;
import org.layroom.dashboard.decision.AirSettings;
import org.layroom.dashboard.decision.SettingsAgreement;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.warning.AirWarnings;
import org.layroom.dashboard.warning.CleanAirRun;
import org.layroom.dashboard.warning.RoomAir;
import org.layroom.dashboard.warning.VentilationHistory;
import org.layroom.dashboard.warning.WarningJson;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.emission.AirDecay;
import org.layroom.predictor.emission.Caution;
import org.layroom.predictor.emission.PredictionCheck;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.vapor.CleanAirReading;

/** Answers about a room's air: warnings, settings, the clean-air reading, how well it airs. */
public final class AirAnswers {
  private static final int MOST_OF_THE_LOG = 100;
  private static final String WIPING = "No flame, heater off, rags outdoors.";
  private static final String BUMP_TEST =
      "A bump test was done in this time. It says nothing of how well the room airs.";
  private static final Duration STANDS = Duration.ofMinutes(3);

  private final AirWarnings warnings;
  private final VentilationHistory airings;
  private final BumpTestAnswers bumpTests;
  private final Supplier<Instant> clock;
  private volatile Function<RoomName, Optional<String>> freshPart = room -> Optional.empty();

  /**
   * Answers from the warnings and the store.
   *
   * @param clock the room's wall clock
   */
  public AirAnswers(DashboardCore core, AirWarnings warnings, Supplier<Instant> clock) {
    this.warnings = warnings;
    this.airings = new VentilationHistory(core.store());
    this.bumpTests = new BumpTestAnswers(warnings);
    this.clock = clock;
  }

  /** Who knows of parts that still give off vapor in a room: a clean-air reading waits for them. */
  public void freshParts(Function<RoomName, Optional<String>> parts) {
    freshPart = parts;
  }

  private void requireNoFreshPart(RoomName room) {
    Optional<String> part = freshPart.apply(room);
    if (part.isPresent()) {
      throw new IllegalArgumentException(
          "\""
              + part.get()
              + "\" was laid up within three days and gives off vapor. Take it out of the room and"
              + " say so under Parts, or wait. A dirty reading blinds the alarm.");
    }
  }

  /** Somebody says that solvent is being wiped: ventilate makes no sound for 15 min. */
  public ObjectNode wiping(RoomName room, String saidAs, String who) {
    warnings.wiping(room, saidAs, who);
    return air(room);
  }

  /** Whoever raises, keeps and ends warnings. */
  public AirWarnings warnings() {
    return warnings;
  }

  /** Bump tests, and the age and hours of the vapor sensors. */
  public BumpTestAnswers bumpTests() {
    return bumpTests;
  }

  public VentilationHistory airings() {
    return airings;
  }

  /** The warnings that stand, and the newest of those before. */
  public ObjectNode open(RoomName room) {
    RoomAir air = warnings.air(room);
    ObjectNode json = WarningJson.told(room, air, air.at().plus(STANDS));
    ArrayNode log = json.putArray("log");
    warnings.log(room, MOST_OF_THE_LOG).forEach(log::add);
    return json;
  }

  /** Everything that the page shows of the air. */
  public ObjectNode air(RoomName room) {
    RoomAir air = warnings.air(room);
    ObjectNode json = WarningJson.told(room, air, air.at().plus(STANDS));
    air.job().ifPresent(job -> job(json.putObject("job"), job));
    ObjectNode wiping = json.putObject("wiping").put("caution", WIPING);
    air.wipingUntil().ifPresent(until -> wiping.put("until", until.toString()));
    air.wipingRefused().ifPresent(why -> wiping.put("refused", why));
    ArrayNode devices = json.putArray("devices");
    air.devices().forEach(device -> device(devices.addObject(), device, air.at()));
    return json;
  }

  private static void job(ObjectNode json, AirJob job) {
    json.put("started", job.started().toString()).put("until", job.until().toString());
    json.put("who", job.who());
    json.put("fanOn", job.fanOn()).put("respiratorOn", job.respiratorOn());
  }

  private static void device(ObjectNode json, RoomAir.DeviceAir device, Instant now) {
    json.put("device", device.device().value());
    json.put("state", device.call().name().toLowerCase(Locale.ROOT));
    ArrayNode words = json.putArray("words");
    device.words().forEach(words::add);
    json.put("fullWarnings", device.full());
    device.cleanAirAsked().ifPresent(why -> json.put("cleanAirAsked", why));
    device.cleanAir().ifPresent(reading -> reading(json.putObject("cleanAir"), reading));
    BumpTestAnswers.describe(json, device, now);
    agreement(json.putObject("agreement"), device.agreement());
    device
        .alarm()
        .ifPresent(
            alarm -> {
              ObjectNode own = json.putObject("itself").put("state", alarm.state());
              alarm
                  .uses()
                  .settingsDecided()
                  .ifPresent(time -> own.put("settingsDecided", time.toString()));
              alarm
                  .uses()
                  .cleanAirTaken()
                  .ifPresent(time -> own.put("cleanAirTaken", time.toString()));
            });
  }

  private static void agreement(ObjectNode json, SettingsAgreement agreement) {
    json.put("state", agreement.state().name().toLowerCase(Locale.ROOT).replace('_', '-'));
    json.put("words", "The device " + agreement.state().words() + ".");
    agreement.told().ifPresent(time -> json.put("decided", time.toString()));
    json.put("decidedBy", agreement.toldBy());
    agreement.uses().ifPresent(time -> json.put("deviceUses", time.toString()));
    json.put("deviceUsesBy", agreement.usesBy());
  }

  private static void reading(ObjectNode json, CleanAirReading reading) {
    json.put("raw", reading.ticks()).put("taken", reading.taken().toString());
    reading.temperatureC().ifPresent(value -> json.put("temperatureC", value));
    reading.humidityPct().ifPresent(value -> json.put("humidityPct", value));
  }

  /** What was decided, the limits to choose from with their sources, and the cautions. */
  public ObjectNode settings(RoomName room) {
    AirSettings settings = warnings.settings(room);
    ObjectNode json = settings.json();
    json.put("room", room.value());
    ArrayNode limits = json.putArray("limits");
    ExposureLimit.table().forEach(limit -> FumesAnswer.limit(limits.addObject(), limit));
    json.put("limitCaution", ExposureLimit.CAUTION);
    cautions(json);
    return json;
  }

  private static void cautions(ObjectNode json) {
    ArrayNode cautions = json.putArray("cautions");
    for (Caution caution : Caution.values()) {
      cautions
          .addObject()
          .put("about", caution.topic().name().toLowerCase(Locale.ROOT))
          .put("words", caution.words());
    }
    json.put("deference", Caution.DEFERENCE);
  }

  /** How far the clean-air procedure is, and what is kept. */
  public ObjectNode cleanAir(RoomName room, Optional<DeviceName> device) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("room", room.value());
    RoomAir air = warnings.air(room);
    ArrayNode devices = json.putArray("devices");
    air.devices().forEach(one -> device(devices.addObject(), one, air.at()));
    Optional<CleanAirRun.State> state = warnings.sensors().cleanAir(room, device);
    json.put("going", state.isPresent());
    state.ifPresent(one -> state(json, one));
    return json;
  }

  private static void state(ObjectNode json, CleanAirRun.State state) {
    json.put("device", state.device().value()).put("begun", state.begun().toString());
    json.put("step", state.step().name().toLowerCase(Locale.ROOT));
    ArrayNode words = json.putArray("words");
    state.words().forEach(words::add);
    json.put("leftSeconds", state.left().toMillis() / 1000.0);
    state.reading().ifPresent(reading -> reading(json.putObject("reading"), reading));
  }

  /** Begins the clean-air procedure. */
  public ObjectNode beginCleanAir(
      RoomName room, Optional<DeviceName> device, CleanAirRun.Promised promised) {
    requireNoFreshPart(room);
    CleanAirRun.State state = warnings.sensors().beginCleanAir(room, device, promised);
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("room", room.value()).put("going", true);
    state(json, state);
    return json;
  }

  /** Takes the clean-air reading; empty when it cannot be taken yet. */
  public Optional<ObjectNode> takeCleanAir(
      RoomName room, Optional<DeviceName> device, String who, String saidAs, boolean confirmed) {
    requireNoFreshPart(room);
    return warnings
        .sensors()
        .takeCleanAir(room, device, who, saidAs, confirmed)
        .map(
            reading -> {
              ObjectNode json = JsonNodeFactory.instance.objectNode();
              json.put("room", room.value()).put("going", false);
              reading(json.putObject("taken"), reading);
              return json;
            });
  }

  /** How well the room airs: the newest fall, and those that were kept. */
  public ObjectNode airing(RoomName room) {
    Mode mode = warnings.settings(room).mode();
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("room", room.value()).put("mode", mode.id());
    json.put(
        "note",
        mode == Mode.PID
            ? "Effective air changes per hour, with this room's mixing."
            : "A metal-oxide sensor can only compare days in this room. Its answer grows more slowly than"
                + " the vapor: the real air changes can be up to twice as many.");
    airings
        .newestFall(room, mode, clock.get())
        .ifPresent(
            fall -> {
              ObjectNode newest = json.putObject("newestFall");
              newest.put("from", fall.from().toString()).put("to", fall.to().toString());
              if (bumpTests.within(room, fall.from(), fall.to())) {
                newest.putArray("notAccepted").add(BUMP_TEST);
              } else {
                result(newest, fall.asItLooks(), fall.from(), fall.to());
              }
            });
    ArrayNode kept = json.putArray("kept");
    airings.history(room).forEach(kept::add);
    return json;
  }

  private static void result(ObjectNode json, AirDecay.Result result, Instant from, Instant to) {
    if (result instanceof AirDecay.Result.Accepted accepted) {
      json.setAll(
          VentilationHistory.json(
              accepted.decay(), new VentilationHistory.Question(from, to, true, true, "")));
    } else if (result instanceof AirDecay.Result.Refused refused) {
      ArrayNode reasons = json.putArray("notAccepted");
      refused.reasons().forEach(reasons::add);
    }
  }

  /** Works out a fall and keeps it when it is accepted. */
  public ObjectNode measure(RoomName room, VentilationHistory.Question question, String saidAs) {
    if (bumpTests.within(room, question.from(), question.to())) {
      throw new IllegalArgumentException("from: " + BUMP_TEST);
    }
    AirDecay.Result result =
        airings.measure(room, warnings.settings(room).mode(), question, saidAs);
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("room", room.value()).put("kept", result instanceof AirDecay.Result.Accepted);
    result(json, result, question.from(), question.to());
    return json;
  }

  /** A prediction beside the measurement of the same layup. */
  public ObjectNode compare(RoomName room, Instant from, Instant to, double predictedPpm) {
    Mode mode = warnings.settings(room).mode();
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("room", room.value());
    Optional<PredictionCheck> comparison = airings.compare(room, mode, from, to, predictedPpm);
    json.put(
        "words",
        comparison
            .map(PredictionCheck::words)
            .orElse(
                mode == Mode.PID
                    ? "This time has less than 15 minutes of readings."
                    : "A metal-oxide sensor shows times clean air, which cannot be compared"
                        + " with a prediction in ppm."));
    comparison.ifPresent(
        one ->
            json.put("predictedMax15MinPpm", one.predictedPpm())
                .put("measuredMax15MinPpm", one.measuredPpm())
                .put("atLeast", one.measuredAtLeast())
                .put("ratio", one.ratio()));
    return json;
  }
}
