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
import java.util.OptionalDouble;
import java.util.function.Consumer;
import org.layroom.dashboard.store.Store;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.Channel;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirEvent;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.ChipAnswer;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.VaporWatch;
import org.layroom.predictor.vapor.WatchMemory;
import org.layroom.predictor.vapor.WatchedJob;

/** What of the watches over the air is kept over a restart, and what they are filled from. */
final class WatchStore {
  /** Enough for a chip's averages. */
  static final Duration SHORT_BACK = Duration.ofMinutes(20);

  /** Enough for a detector's eight-hour average. */
  static final Duration LONG_BACK = Duration.ofHours(8).plusMinutes(5);

  private static final JsonMapper JSON = JsonMapper.builder().build();

  private static final int MOST_JOBS = 9;

  private final Store store;

  WatchStore(Store store) {
    this.store = store;
  }

  /** Streams a device's stored readings in {@code [from, to)} as events. */
  void replay(
      Channel channel, VaporSensor sensor, Instant from, Instant to, Consumer<AirEvent> taker) {
    store
        .archive()
        .readings(
            channel,
            from,
            to,
            (time, readings) -> AirEvents.of(sensor, time, readings).ifPresent(taker));
  }

  Optional<CleanAirReading> cleanAir(Channel channel) {
    return read("air.clean/" + key(channel))
        .filter(node -> node.has("raw"))
        .map(
            node ->
                new CleanAirReading(
                    node.path("raw").asDouble(),
                    time(node, "taken"),
                    number(node, "temperatureC"),
                    number(node, "humidityPct")));
  }

  /**
   * Keeps a clean-air reading as the newest and among those before it.
   *
   * @param saidAs an id made by whoever takes it
   */
  void keep(Channel channel, CleanAirReading reading, String who, String saidAs) {
    write("air.clean/" + key(channel), json(reading));
    ObjectNode event = json(reading).put("device", channel.device().value()).put("who", who);
    store.events().append("clean-air/" + channel.room(), saidAs, reading.taken(), event.toString());
  }

  private static ObjectNode json(CleanAirReading reading) {
    ObjectNode node = node();
    node.put("raw", reading.ticks()).put("taken", reading.taken().toString());
    reading.temperatureC().ifPresent(value -> node.put("temperatureC", value));
    reading.humidityPct().ifPresent(value -> node.put("humidityPct", value));
    return node;
  }

  /** How the chip answered in the newest jobs, the oldest first. */
  List<ChipAnswer> answers(Channel channel) {
    List<ChipAnswer> answers = new ArrayList<>();
    read("air.answers/" + key(channel))
        .ifPresent(
            node ->
                node.path("riseAt100Ppm")
                    .forEach(one -> answers.add(new ChipAnswer(one.asDouble()))));
    return answers;
  }

  /** Keeps how the chip answered in a job that has ended; the newest jobs count. */
  void keep(Channel channel, ChipAnswer answer) {
    List<ChipAnswer> answers = answers(channel);
    answers.add(answer);
    ObjectNode node = node();
    var rises = node.putArray("riseAt100Ppm");
    answers
        .subList(Math.max(0, answers.size() - MOST_JOBS), answers.size())
        .forEach(one -> rises.add(one.riseAt100Ppm()));
    write("air.answers/" + key(channel), node);
  }

  /** Another chip was fitted: clean air and answers of the one before say nothing of it. */
  void forgetChip(Channel channel) {
    write("air.clean/" + key(channel), node());
    write("air.answers/" + key(channel), node());
  }

  Optional<WatchMemory> memory(Channel channel) {
    return read("air.watch/" + key(channel))
        .map(
            node ->
                new WatchMemory(
                    AirCall.valueOf(node.path("base").asText()),
                    node.has("warning")
                        ? Optional.of(warning(node.path("warning")))
                        : Optional.empty(),
                    node.path("lastId").asLong(),
                    node.path("seenAt").asDouble(),
                    node.has("job") ? Optional.of(watchedJob(node.path("job"))) : Optional.empty(),
                    node.has("wiping") ? Optional.of(time(node, "wiping")) : Optional.empty()));
  }

  /** Keeps what a watch knows beside its averages. */
  void keep(Channel channel, VaporWatch watch) {
    WatchMemory memory = watch.memory();
    ObjectNode node = node();
    node.put("base", memory.base().name());
    node.put("lastId", memory.lastId()).put("seenAt", memory.seenAt());
    memory.warning().ifPresent(one -> node.set("warning", json(one)));
    memory
        .job()
        .ifPresent(
            one ->
                node.putObject("job")
                    .put("start", one.start().toString())
                    .put("until", one.until().toString())
                    .put("who", one.who())
                    .put("quiet", one.quiet()));
    memory.wiping().ifPresent(at -> node.put("wiping", at.toString()));
    write("air.watch/" + key(channel), node);
  }

  private static ObjectNode json(AirWarning warning) {
    ObjectNode node = node();
    node.put("id", warning.id()).put("call", warning.call().name());
    node.put("since", warning.since().toString());
    var why = node.putArray("why");
    warning.why().forEach(why::add);
    node.put("whatToDo", warning.whatToDo()).put("endsWhen", warning.endsWhen());
    node.put("sound", warning.sound().name());
    warning
        .acknowledged()
        .ifPresent(seen -> node.put("who", seen.who()).put("when", seen.when().toString()));
    return node;
  }

  private static AirWarning warning(JsonNode node) {
    List<String> why = new ArrayList<>();
    node.path("why").forEach(one -> why.add(one.asText()));
    return new AirWarning(
        node.path("id").asLong(),
        AirCall.valueOf(node.path("call").asText()),
        time(node, "since"),
        why,
        node.path("whatToDo").asText(),
        node.path("endsWhen").asText(),
        node.has("who")
            ? Optional.of(new AirWarning.Seen(node.path("who").asText(), time(node, "when")))
            : Optional.empty(),
        AirWarning.Sound.valueOf(node.path("sound").asText()));
  }

  private static WatchedJob watchedJob(JsonNode node) {
    return new WatchedJob(
        time(node, "start"),
        time(node, "until"),
        node.path("who").asText(),
        node.path("quiet").asBoolean());
  }

  private static String key(Channel channel) {
    return channel.room() + "/" + channel.device();
  }

  private static Instant time(JsonNode node, String name) {
    return Instant.parse(node.path(name).asText());
  }

  private static OptionalDouble number(JsonNode node, String name) {
    return node.path(name).isNumber()
        ? OptionalDouble.of(node.path(name).doubleValue())
        : OptionalDouble.empty();
  }

  private static ObjectNode node() {
    return JsonNodeFactory.instance.objectNode();
  }

  private Optional<JsonNode> read(String name) {
    try {
      Optional<String> text = store.events().setting(name);
      return text.isEmpty() ? Optional.empty() : Optional.of(JSON.readTree(text.get()));
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("the store's setting " + name + " is damaged", e);
    }
  }

  private void write(String name, ObjectNode node) {
    store.events().set(name, node.toString());
  }
}
