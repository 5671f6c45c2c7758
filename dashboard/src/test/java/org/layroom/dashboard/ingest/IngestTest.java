package org.layroom.dashboard.ingest;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.layroom.dashboard.store.OutboxMark;
import org.layroom.dashboard.store.RejectedRecord;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomName;

/** What becomes of good, odd and hostile messages. */
class IngestTest {
  private static final RoomName ROOM = RoomName.of("shop");
  private static final String TOPIC = "layroom/shop/bench/readings";
  private static final Instant RECEIVED = Instant.parse("2026-11-02T10:00:00Z");

  @TempDir Path folder;
  private final SteppedPace pace = new SteppedPace(RECEIVED);
  private final AtomicInteger acknowledged = new AtomicInteger();
  private final List<StoreEntry.Sample> live = new CopyOnWriteArrayList<>();
  private final List<StoreEntry.Sample> backlog = new CopyOnWriteArrayList<>();
  private final List<OutboxMark> marks = new CopyOnWriteArrayList<>();
  private Store store;
  private Ingest ingest;
  private int sent;

  @BeforeEach
  void open() {
    store = StoreFolder.open(folder);
    ingest =
        Ingest.onCallersThread(
            store,
            pace,
            new ReadingListener() {
              @Override
              public void accepted(StoreEntry.Sample sample, boolean old) {
                (old ? backlog : live).add(sample);
                throw new IllegalStateException("a listener that fails must not matter");
              }

              @Override
              public void marks(List<OutboxMark> now) {
                marks.addAll(now);
              }
            });
    ingest.start();
  }

  @AfterEach
  void close() {
    ingest.close();
    store.close();
    pace.close();
  }

  private void send(String topic, byte[] body) {
    sent++;
    assertTrue(
        ingest.accept(
            new Inbound(topic, body, RECEIVED, Optional.empty(), acknowledged::incrementAndGet)));
    ingest.commitSoon();
    assertEquals(sent, acknowledged.get());
  }

  private void send(String topic, String body) {
    send(topic, body.getBytes(StandardCharsets.UTF_8));
  }

  /** A pack with an outbox position and one more record. */
  private static String pack(long sequence, String record) {
    return "[{\"bn\":\"layroom/shop/bench/\",\"bt\":"
        + RECEIVED.minusSeconds(5).getEpochSecond()
        + ",\"n\":\"outbox\",\"vs\":\"box\"},{\"n\":\"sequence\",\"v\":"
        + sequence
        + "},"
        + record
        + "]";
  }

  @Test
  void aGoodReadingIsStoredThenMarkedAndTold() {
    send(TOPIC, pack(1, "{\"n\":\"temperature\",\"u\":\"Cel\",\"v\":19.5}"));
    assertEquals(1, ingest.counts().samples());
    assertEquals(1, marks.get(0).mark().sequence());
    assertEquals(1, live.size());
    assertEquals(1, store.history().countReadings(ROOM, Instant.EPOCH, RECEIVED));
  }

  @Test
  void theSameReadingTwiceIsOneReadingAndMarkedTwice() {
    String body = pack(1, "{\"n\":\"temperature\",\"u\":\"Cel\",\"v\":19.5}");
    send(TOPIC, body);
    send(TOPIC, body);
    assertEquals(1, ingest.counts().duplicates());
    assertEquals(2, marks.size());
    assertEquals(1, live.size());
  }

  @Test
  void anOldReadingIsToldAsBacklogSoThatItRaisesNoWarning() {
    send(
        TOPIC,
        "[{\"bn\":\"layroom/shop/bench/\",\"n\":\"temperature\",\"u\":\"Cel\",\"v\":19,\"bt\":"
            + RECEIVED.minusSeconds(600).getEpochSecond()
            + "}]");
    assertEquals(1, backlog.size());
    assertEquals(0, live.size());
  }

  /** Measuring ranges: BME280 data sheet (-40 to 85 degC, 300 to 1100 hPa), from memory. */
  @ParameterizedTest
  @CsvSource({
    "temperature, Cel, -60",
    "temperature, Cel, 86",
    "humidity, %RH, 101",
    "humidity, %RH, -0.1",
    "pressure, Pa, 29999",
    "pressure, Pa, 110001",
    "voc-raw, '', 65536",
    "voc-raw, '', -1",
    "voc-level, /, -1",
    "styrene-estimate, /, 1.1",
    "mold-temperature/fender, Cel, -60",
    "temperature, K, 293",
    "anything-else, '', 1e300",
  })
  void anImpossibleValueIsKeptAsRejectedAndCountsAsStored(String name, String unit, double value) {
    send(TOPIC, pack(1, "{\"n\":\"" + name + "\",\"u\":\"" + unit + "\",\"v\":" + value + "}"));
    assertEquals(1, ingest.counts().refused(Rejection.IMPOSSIBLE));
    assertEquals(1, marks.get(0).mark().sequence());
    List<RejectedRecord> rejected = store.archive().rejected(ROOM);
    assertEquals(1, rejected.size());
    assertEquals(value, rejected.get(0).reading().value().orElseThrow());
    assertTrue(rejected.get(0).reason().startsWith(name));
    assertEquals(List.of(), store.sources().latest(ROOM));
    assertEquals(0, store.history().countReadings(ROOM, Instant.EPOCH, RECEIVED));
  }

  @Test
  void anImpossibleValueDoesNotTakeTheOthersOfItsMomentWithIt() {
    send(
        TOPIC,
        pack(
            1,
            "{\"n\":\"temperature\",\"u\":\"Cel\",\"v\":-60},{\"n\":\"humidity\",\"u\":\"%RH\","
                + "\"v\":55}"));
    assertEquals(1, store.archive().rejected(ROOM).size());
    assertEquals("humidity", store.sources().latest(ROOM).get(0).reading().name());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "[]",
        "{}",
        "nonsense",
        "[{\"n\":\"temperature\"}]",
        "[{\"bn\":\"layroom/shop/bench/\",\"n\":\"temperature\",\"v\":\"19\"}]",
        "[{\"bn\":\"layroom/shop/bench/\",\"n\":\"temperature\",\"v\":NaN}]",
        "[{\"bn\":\"layroom/shop/bench/\",\"n\":\"a b\",\"v\":1}]",
        "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[",
        "[{\"bn\":\"layroom/shop/bench/\",\"n\":\"sequence\",\"v\":1}]",
        "[{\"bn\":\"layroom/shop/bench/\",\"bver\":99,\"n\":\"temperature\",\"v\":1}]",
      })
  void aMalformedMessageIsCountedAndAcknowledged(String body) {
    send(TOPIC, body);
    assertEquals(1, ingest.counts().refused(Rejection.MALFORMED));
    stillAlive();
  }

  @Test
  void aDeviceHasSoManySeriesAndARoomSoManyDevicesAndTheRestIsCounted() {
    for (int i = 0; i < 2 * SeriesCap.MOST_SERIES; i++) {
      send(TOPIC, pack(1 + i, "{\"n\":\"name-%d\",\"v\":1}".formatted(i)));
    }
    assertEquals(SeriesCap.MOST_SERIES, store.sources().latest(ROOM).size());
    assertEquals(2 * SeriesCap.MOST_SERIES, marks.get(marks.size() - 1).mark().sequence());
    for (int i = 0; i < 2 * SeriesCap.MOST_DEVICES; i++) {
      send(
          "layroom/shop/d" + i + "/readings",
          "[{\"bn\":\"layroom/shop/d%d/\",\"n\":\"temperature\",\"u\":\"Cel\",\"v\":19}]"
              .formatted(i));
    }
    assertEquals(SeriesCap.MOST_DEVICES, store.sources().devices(ROOM).size(), "bench is one");
    assertTrue(ingest.counts().toString().contains("TOO_MANY=151"), ingest.counts().toString());
  }

  @Test
  void aMessageInAnotherDevicesNameIsRefused() {
    send(TOPIC, "[{\"bn\":\"layroom/shop/other/\",\"n\":\"temperature\",\"v\":19}]");
    send(TOPIC, "[{\"n\":\"layroom/office/bench/temperature\",\"v\":19}]");
    assertEquals(2, ingest.counts().refused(Rejection.SPOOFED));
    assertEquals(List.of(), store.sources().rooms());
    stillAlive();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "layroom/Shop/bench/readings",
        "layroom/shop/be nch/readings",
        "layroom/../bench/readings",
        "layroom//bench/readings",
        "layroom/shop/bench/other",
        "somewhere/else",
        "layroom/shop-with-a-name-of-more-than-32-characters/bench/readings",
      })
  void anUnknownTopicIsIgnored(String topic) {
    send(topic, pack(1, "{\"n\":\"temperature\",\"u\":\"Cel\",\"v\":19.5}"));
    assertEquals(1, ingest.counts().refused(Rejection.UNKNOWN_TOPIC));
    stillAlive();
  }

  @Test
  void anOversizedMessageIsCountedWhateverItsKind() {
    send(TOPIC, new byte[65_537]);
    send("layroom/shop/bench/status", new byte[65_537]);
    send("layroom/shop/bench/alarm", new byte[65_537]);
    assertEquals(3, ingest.counts().refused(Rejection.OVERSIZED));
    stillAlive();
  }

  @Test
  void valuesThatOverflowTogetherDoNotStopTheStore() {
    send(
        TOPIC,
        "[{\"bn\":\"layroom/shop/bench/\",\"bt\":1.7e9,\"bv\":1.7e308,\"n\":\"a\",\"v\":1.7e308},"
            + "{\"n\":\"b\",\"v\":-1e15,\"bv\":0},{\"n\":\"c\",\"v\":1e15}]");
    assertEquals(1, ingest.counts().refused(Rejection.IMPOSSIBLE));
    stillAlive();
  }

  @Test
  void timesFromTheEndsOfTimeDoNotStopTheStore() {
    for (String time : new String[] {"-1e300", "-1e12", "253402300799", "1e308", "268435455"}) {
      send(
          TOPIC,
          "[{\"bn\":\"layroom/shop/bench/\",\"bt\":"
              + time
              + ",\"n\":\"humidity\",\"u\":\"%RH\",\"v\":50}]");
    }
    assertEquals(0, ingest.counts().refused(Rejection.NOT_STORABLE));
    stillAlive();
  }

  @Test
  void aLostRangeIsWaitedForNoLonger() {
    send(TOPIC, pack(1, "{\"n\":\"temperature\",\"u\":\"Cel\",\"v\":19.5}"));
    send(TOPIC, pack(5, "{\"n\":\"temperature\",\"u\":\"Cel\",\"v\":19.5}"));
    assertEquals(1, marks.get(1).mark().sequence());
    send(
        TOPIC,
        "[{\"bn\":\"layroom/shop/bench/\",\"n\":\"outbox\",\"vs\":\"box\"},"
            + "{\"n\":\"sequence-lost-first\",\"v\":2},{\"n\":\"sequence-lost-last\",\"v\":4}]");
    assertEquals(5, marks.get(2).mark().sequence());
  }

  @Test
  void aDevicesStatusIsKept() {
    send("layroom/shop/bench/status", "{\"state\":\"online\",\"faults\":[]}");
    assertTrue(store.sources().devices(ROOM).get(0).said().orElseThrow().status().online());
    send("layroom/shop/bench/status", "{\"state\":\"asleep\"}");
    assertEquals(1, ingest.counts().refused(Rejection.MALFORMED));
    assertEquals(Channel.of("shop", "bench"), store.sources().devices(ROOM).get(0).channel());
  }

  private void stillAlive() {
    long before = ingest.counts().samples();
    send(
        "layroom/shop/healthy/readings",
        "[{\"bn\":\"layroom/shop/healthy/\",\"bt\":"
            + RECEIVED.getEpochSecond()
            + ",\"n\":\"temperature\",\"u\":\"Cel\",\"v\":20}]");
    assertEquals(before + 1, ingest.counts().samples());
  }
}
