package org.layroom.dashboard.warning;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.layroom.dashboard.store.Bucket;
import org.layroom.dashboard.store.History;
import org.layroom.dashboard.store.SeriesHistory;
import org.layroom.dashboard.store.Store;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.vapor.BumpResult;
import org.layroom.predictor.vapor.SensorProof;

/**
 * What is kept of vapor sensors: their age, hours and proofs, and every bump test there ever was.
 * Tests are only ever added.
 */
final class SensorStore {
  private static final JsonMapper JSON = JsonMapper.builder().build();

  /** Buckets of two hours and more are answered from hourly roll-ups. */
  private static final Duration BUCKET = Duration.ofHours(2);

  /** So far back hourly roll-ups are counted for a sensor that is older than this record. */
  private static final Duration LOOKED_BACK = Duration.ofDays(5 * 365);

  private final Store store;

  SensorStore(Store store) {
    this.store = store;
  }

  /** What is kept of a device's sensor; of one never kept before, what its readings tell. */
  SensorLife life(Channel channel, Instant now) {
    return read(channel).orElseGet(() -> counted(channel, now));
  }

  private SensorLife counted(Channel channel, Instant now) {
    Instant first = now;
    long count = 0;
    Duration most = BUCKET.multipliedBy(History.MOST_POINTS);
    for (Instant to = now; to.isAfter(now.minus(LOOKED_BACK)); to = to.minus(most)) {
      List<Bucket> buckets = buckets(channel, to.minus(most), to);
      if (buckets.isEmpty()) {
        break;
      }
      first = buckets.get(0).from();
      count += buckets.size();
    }
    return new SensorLife(SensorProof.since(first), BUCKET.multipliedBy(count), Optional.empty());
  }

  private List<Bucket> buckets(Channel channel, Instant from, Instant to) {
    return Stream.concat(AirEvents.OF_A_CHIP.stream(), AirEvents.OF_A_DETECTOR.stream())
        .map(
            series ->
                store.history().between(channel.room(), series, from, to, History.MOST_POINTS))
        .filter(one -> one.device().filter(channel.device()::equals).isPresent())
        .map(SeriesHistory::buckets)
        .filter(buckets -> !buckets.isEmpty())
        .findFirst()
        .orElse(List.of());
  }

  /** Keeps what is known of a device's sensor now. */
  void keep(Channel channel, SensorLife life) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    SensorProof proof = life.proof();
    node.put("since", proof.since().toString()).put("onSeconds", life.on().toSeconds());
    proof.test().ifPresent(one -> write(node.putObject("test"), one));
    proof.rise().ifPresent(at -> node.put("rise", at.toString()));
    proof.movedCleanAir().ifPresent(at -> node.put("movedCleanAir", at.toString()));
    proof.missed().ifPresent(at -> node.put("missed", at.toString()));
    proof.fitted().ifPresent(at -> node.put("fitted", at.toString()));
    life.tester()
        .ifPresent(
            by -> {
              node.put("testId", by.test()).put("who", by.who()).put("ppm", by.ppm());
              by.alarmSeen().ifPresent(seen -> node.put("alarmSeen", seen));
            });
    store.events().set(name(channel), node.toString());
  }

  private static void write(ObjectNode node, BumpResult result) {
    node.put("time", result.time().toString()).put("passed", result.passed());
    node.put("before", result.before()).put("highest", result.highest());
    node.put("tookSeconds", result.took().toMillis() / 1000.0);
  }

  private Optional<SensorLife> read(Channel channel) {
    Optional<String> text = store.events().setting(name(channel));
    if (text.isEmpty()) {
      return Optional.empty();
    }
    try {
      JsonNode node = JSON.readTree(text.get());
      SensorProof proof =
          new SensorProof(
              Instant.parse(node.path("since").asText()),
              node.has("test") ? Optional.of(result(node.path("test"))) : Optional.empty(),
              time(node, "rise"),
              time(node, "movedCleanAir"),
              time(node, "missed"),
              time(node, "fitted"));
      return Optional.of(
          new SensorLife(proof, Duration.ofSeconds(node.path("onSeconds").asLong()), tester(node)));
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("the store's setting " + name(channel) + " is damaged", e);
    }
  }

  private static Optional<SensorLife.Tester> tester(JsonNode node) {
    return node.has("testId")
        ? Optional.of(
            new SensorLife.Tester(
                node.path("testId").asText(),
                node.path("who").asText(),
                node.path("ppm").asBoolean(),
                node.has("alarmSeen")
                    ? Optional.of(node.path("alarmSeen").asBoolean())
                    : Optional.empty()))
        : Optional.empty();
  }

  private static BumpResult result(JsonNode node) {
    return new BumpResult(
        Instant.parse(node.path("time").asText()),
        node.path("passed").asBoolean(),
        node.path("before").asDouble(),
        node.path("highest").asDouble(),
        Duration.ofMillis(Math.round(1000 * node.path("tookSeconds").asDouble())));
  }

  private static Optional<Instant> time(JsonNode node, String name) {
    return node.has(name) ? Optional.of(Instant.parse(node.path(name).asText())) : Optional.empty();
  }

  private static String name(Channel channel) {
    return "air.sensor/" + channel.room() + "/" + channel.device();
  }

  private static String stream(RoomName room) {
    return "bump-test/" + room;
  }

  /** A bump test is through. */
  void tested(Channel channel, SensorLife.Tester by, BumpResult result) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("device", channel.device().value()).put("who", by.who()).put("ppm", by.ppm());
    write(node, result);
    store.events().append(stream(channel.room()), by.test(), result.time(), node.toString());
  }

  /** Somebody says whether lamp, buzzer and fan came on in a bump test. */
  void alarmSeen(Channel channel, SensorLife.Tester by, String saidAs, String who, Instant when) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("device", channel.device().value()).put("test", by.test()).put("who", who);
    by.alarmSeen().ifPresent(seen -> node.put("alarmSeen", seen));
    store.events().append(stream(channel.room()), saidAs, when, node.toString());
  }

  /** Somebody put a sensor in for another, whose age and hours are kept with that. */
  void fitted(Channel channel, String saidAs, String who, Instant when, SensorLife before) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("device", channel.device().value()).put("who", who).put("newSensor", true);
    node.put("since", before.proof().since().toString()).put("onSeconds", before.on().toSeconds());
    store.events().append(stream(channel.room()), saidAs, when, node.toString());
  }

  /** Whether a bump test of a room was said under this id before. */
  boolean said(RoomName room, String id) {
    return store.events().find(stream(room), id).isPresent();
  }

  /** When the bump tests of a room were through. */
  List<Instant> tests(RoomName room) {
    return store.events().events(stream(room)).stream()
        .filter(event -> event.body().contains("\"passed\""))
        .map(event -> event.time())
        .toList();
  }
}
