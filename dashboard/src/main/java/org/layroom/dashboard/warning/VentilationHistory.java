package org.layroom.dashboard.warning;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.store.EventLog;
import org.layroom.dashboard.store.History;
import org.layroom.dashboard.store.Store;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.emission.AirDecay;
import org.layroom.predictor.emission.PredictionCheck;
import org.layroom.predictor.exposure.AirAverage;
import org.layroom.predictor.exposure.AirSample;
import org.layroom.predictor.exposure.ExposureHistory;

/**
 * How well a room airs, from the fall of the vapor after a job, kept as a history: air changes an
 * hour with a detector, with a chip only a comparison between this room's days.
 */
public final class VentilationHistory {
  /** A fall is looked for within this time. */
  static final Duration LOOK_BACK = Duration.ofHours(12);

  /** A fall is followed down to this share of its peak: below it the chip's noise counts. */
  private static final double FOLLOWED_TO = 0.1;

  private static final double LEAST_RISE = 0.5;
  private static final double MILLION = 1e6;
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private final Store store;

  /** What is asked: between which times, and what was done meanwhile. */
  public record Question(
      Instant from, Instant to, boolean sourceStopped, boolean leftAlone, String setting) {
    private static final int LONGEST_SETTING = 60;

    public Question {
      if (!from.isBefore(to) || Duration.between(from, to).compareTo(Duration.ofDays(2)) > 0) {
        throw new IllegalArgumentException(
            "The end must be after the start, at most two days later");
      }
      if (setting.length() > LONGEST_SETTING) {
        throw new IllegalArgumentException(
            "Fan and door: at most 60 characters, such as door open");
      }
    }
  }

  /** A fall that was found in the readings. */
  public record Fall(Instant from, Instant to, AirDecay.Result asItLooks) {}

  public VentilationHistory(Store store) {
    this.store = store;
  }

  private static String series(Mode mode) {
    return mode == Mode.PID ? Series.STYRENE_ESTIMATE : Series.VOC_LEVEL;
  }

  private static double background(Mode mode) {
    return mode == Mode.PID ? 0 : 1;
  }

  private List<AirSample> samples(RoomName room, Mode mode, Instant from, Instant to) {
    double factor = mode == Mode.PID ? MILLION : 1;
    List<AirSample> samples = new ArrayList<>();
    History history = store.history();
    history.values(
        room,
        series(mode),
        from,
        to,
        (time, value) -> {
          if (value >= 0) {
            samples.add(new AirSample(time, factor * value));
          }
        });
    return samples;
  }

  private static AirDecay.Result decay(List<AirSample> samples, Mode mode, Question question) {
    return AirDecay.of(
        samples,
        new AirDecay.Circumstances(
            background(mode), mode == Mode.PID, question.sourceStopped(), question.leftAlone()));
  }

  /** The newest fall of the last hours, judged as if the source had stopped; empty without one. */
  public Optional<Fall> newestFall(RoomName room, Mode mode, Instant now) {
    List<AirSample> samples = samples(room, mode, now.minus(LOOK_BACK), now);
    double background = background(mode);
    Optional<AirSample> peak = samples.stream().max((a, b) -> Double.compare(a.value(), b.value()));
    if (peak.isEmpty() || peak.get().value() - background < LEAST_RISE) {
      return Optional.empty();
    }
    double down = background + FOLLOWED_TO * (peak.get().value() - background);
    Instant end =
        samples.stream()
            .filter(one -> one.time().isAfter(peak.get().time()) && one.value() < down)
            .map(AirSample::time)
            .findFirst()
            .orElse(now);
    Question question =
        new Question(peak.get().time(), later(peak.get().time(), end), true, true, "");
    List<AirSample> fall =
        samples.stream()
            .filter(one -> !one.time().isBefore(question.from()) && one.time().isBefore(end))
            .toList();
    return Optional.of(new Fall(question.from(), question.to(), decay(fall, mode, question)));
  }

  private static Instant later(Instant from, Instant end) {
    return end.isAfter(from) ? end : from.plusMillis(1);
  }

  /**
   * Works out a fall and keeps it when it is accepted.
   *
   * @param saidAs an id made by whoever asks: asking again keeps one
   */
  public AirDecay.Result measure(RoomName room, Mode mode, Question question, String saidAs) {
    AirDecay.Result result =
        decay(samples(room, mode, question.from(), question.to()), mode, question);
    if (result instanceof AirDecay.Result.Accepted accepted) {
      store
          .events()
          .append(stream(room), saidAs, question.to(), json(accepted.decay(), question).toString());
    }
    return result;
  }

  private static String stream(RoomName room) {
    return "airing/" + room;
  }

  /** A fall as JSON; air changes only where the sensor is entitled to them. */
  public static ObjectNode json(AirDecay decay, Question question) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("from", question.from().toString()).put("to", question.to().toString());
    json.put("setting", question.setting());
    if (decay.calibrated()) {
      json.put("airChangesPerHour", decay.perHour());
    }
    json.put("halfTimeMinutes", decay.halfTime().toMillis() / 60_000.0);
    json.put("r2", decay.r2()).put("points", decay.points());
    return json.put("calibrated", decay.calibrated()).put("words", decay.words());
  }

  /** The falls that were kept, oldest first. */
  public List<JsonNode> history(RoomName room) {
    return store.events().events(stream(room)).stream().map(VentilationHistory::read).toList();
  }

  private static JsonNode read(EventLog.Event event) {
    try {
      return JSON.readTree(event.body());
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("event " + event.id() + " of the store is damaged", e);
    }
  }

  /** The newest air changes that were measured in this room with a detector, per hour. */
  public Optional<Double> measuredPerHour(RoomName room) {
    return history(room).stream()
        .filter(one -> one.has("airChangesPerHour"))
        .map(one -> one.path("airChangesPerHour").asDouble())
        .reduce((older, newer) -> newer);
  }

  /**
   * A prediction beside what a detector measured; empty with a chip, whose level is no such
   * measurement, and without a quarter of an hour of readings.
   *
   * @param predictedMax15MinPpm above 0, ppm
   */
  public Optional<PredictionCheck> compare(
      RoomName room, Mode mode, Instant from, Instant to, double predictedMax15MinPpm) {
    List<AirSample> samples =
        mode == Mode.PID ? samples(room, mode, from, to) : List.<AirSample>of();
    if (samples.isEmpty()) {
      return Optional.empty();
    }
    Optional<AirAverage> largest = ExposureHistory.of(samples, to).largestShortTermAverage();
    return largest.map(
        mean -> new PredictionCheck(predictedMax15MinPpm, mean.value(), mean.atLeast()));
  }
}
