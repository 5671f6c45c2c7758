package org.layroom.dashboard.backup;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import java.util.zip.ZipOutputStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.EventLog;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;
import org.layroom.testing.Seed;

/** A backup put back in an empty home, and every way in which it is refused. */
class RestoreTest {
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final Instant NOON = Instant.parse("2026-11-02T12:00:00Z");
  private static final int SAMPLES = 300;

  /** The README's own file. */
  private static final String CAN =
      """
      {"id":"my-can","name":"My resin","kind":"laminating-resin",
       "gel":{"minutes":20,"temperatureC":20,"doseByWeightPct":1.5},
       "doseByWeightPct":{"min":1.0,"max":2.5},"temperatureC":{"min":15,"max":35},
       "densityKgPerL":1.12,"catalystDensityKgPerL":1.18,"demoldHoursAt20C":24,
       "structural":false,"waxed":false,"styrenePct":42}
      """;

  @TempDir Path folder;

  private Path old = Path.of("");
  private Path home = Path.of("");
  private Path file = Path.of("");

  @BeforeEach
  void aShopWithABackup() throws IOException {
    old = folder.resolve("old");
    home = folder.resolve("home");
    file = folder.resolve("shop.zip");
    Files.createDirectories(old.resolve("materials"));
    Files.writeString(old.resolve("materials").resolve("my-can.json"), CAN);
    Files.writeString(old.resolve("materials").resolve("broken.json"), "no material");
    Files.writeString(old.resolve("password"), "never to be saved");
    try (Store store = StoreFolder.open(old)) {
      for (int i = 1; i <= SAMPLES; i++) {
        store.append(List.of(sample(i)));
      }
      store.events().append("job/1", "tap", NOON, "{\"laid\":true}");
      store.events().set("air/shop", "{\"mode\":\"house\"}");
      store.events().set(EventLog.PRIVATE + "session", "never to be saved either");
      store.events().set(EventLog.CLIENT_ID, "layroom-1");
      Files.write(file, backup(store));
    }
  }

  private byte[] backup(Store store) throws IOException {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    new Backups(store, old, old.resolve("materials"), Map.of("room", "shop"), () -> NOON)
        .write(() -> out);
    return out.toByteArray();
  }

  private static StoreEntry.Sample sample(int i) {
    Instant time = NOON.plusSeconds(10L * i);
    return new StoreEntry.Sample(
        BENCH,
        Optional.of(new OutboxPosition("box", i)),
        SampleTimes.asSaid(time, time.plusSeconds(1)),
        List.of(Reading.of("temperature", "Cel", 15 + i % 10)),
        List.of());
  }

  private Restore.Done restore(boolean replace) {
    return Restore.into(file, home, home.resolve("materials"), replace);
  }

  private String refusal() {
    return String.valueOf(assertThrows(BackupFailure.class, () -> restore(false)).getMessage());
  }

  private void assertNothingChanged() throws IOException {
    assertFalse(Files.exists(home.resolve("layroom.db")));
    assertFalse(Files.exists(home.resolve("materials")));
    try (Stream<Path> left = Files.exists(home) ? Files.list(home) : Stream.of()) {
      assertEquals(List.of(), left.toList());
    }
  }

  private static long readings(Store store) {
    return store.history().countReadings(BENCH.room(), NOON, NOON.plusSeconds(1_000_000));
  }

  @Test
  void anEmptyHomeHoldsEverythingAfterwards() throws IOException {
    Restore.Done done = restore(false);
    assertEquals(List.of(), done.setAside());
    assertEquals(NOON.toString(), done.manifest().made());
    assertEquals(Map.of("room", "shop"), done.manifest().settings());
    assertEquals(CAN, Files.readString(home.resolve("materials").resolve("my-can.json")));
    try (Store store = StoreFolder.open(home)) {
      assertEquals(SAMPLES, readings(store));
      assertEquals(SAMPLES, store.marks().get(0).mark().sequence());
      assertEquals("{\"laid\":true}", store.events().events("job/1").get(0).body());
      assertEquals(Optional.of("{\"mode\":\"house\"}"), store.events().setting("air/shop"));
      assertEquals(Optional.empty(), store.events().setting(EventLog.CLIENT_ID));
      assertEquals(Optional.empty(), store.mended());
    }
  }

  @Test
  void noSecretIsInIt() throws IOException {
    try (ZipFile zip = new ZipFile(file.toFile())) {
      assertEquals(
          List.of("manifest.json", "layroom.db", "materials/my-can.json"),
          zip.stream().map(ZipEntry::getName).toList());
      for (ZipEntry entry : zip.stream().toList()) {
        String text =
            new String(zip.getInputStream(entry).readAllBytes(), StandardCharsets.ISO_8859_1);
        assertFalse(text.contains("never to be saved"), entry.getName());
      }
    }
  }

  @Test
  void oneWrongByteAnywhereIsRefusedOrChangesNothing() throws IOException {
    byte[] good = Files.readAllBytes(file);
    long seed = Seed.value();
    Random random = new Random(seed);
    int refused = 0;
    for (int i = 0; i < 150; i++) {
      byte[] bad = good.clone();
      bad[random.nextInt(bad.length)] ^= (byte) (1 << random.nextInt(8));
      Files.write(file, bad);
      try {
        Restore.check(file, folder);
      } catch (BackupFailure e) {
        refused++;
      }
    }
    assertTrue(refused > 120, "refused " + refused + " of 150; the others hit what is not read");
  }

  @Test
  void aShortenedFileIsRefused() throws IOException {
    byte[] good = Files.readAllBytes(file);
    for (int length : new int[] {0, 1, 100, good.length / 2, good.length - 1}) {
      Files.write(file, Arrays.copyOf(good, length));
      assertTrue(refusal().contains("damaged or not a Layroom backup"), "length " + length);
      assertNothingChanged();
    }
  }

  private interface Change {
    byte[] of(byte[] entry);
  }

  /** The backup packed anew with some entries changed and some added. */
  private void repack(Map<String, Change> changes, Map<String, byte[]> added) throws IOException {
    Map<String, byte[]> entries = new LinkedHashMap<>();
    try (ZipFile zip = new ZipFile(file.toFile())) {
      for (ZipEntry entry : zip.stream().toList()) {
        entries.put(entry.getName(), zip.getInputStream(entry).readAllBytes());
      }
    }
    changes.forEach(
        (name, change) -> entries.computeIfPresent(name, (key, bytes) -> change.of(bytes)));
    entries.putAll(added);
    try (ZipOutputStream zip = new ZipOutputStream(Files.newOutputStream(file))) {
      for (Map.Entry<String, byte[]> entry : entries.entrySet()) {
        zip.putNextEntry(new ZipEntry(entry.getKey()));
        zip.write(entry.getValue());
        zip.closeEntry();
      }
    }
  }

  private static Change text(String from, String to) {
    return bytes ->
        new String(bytes, StandardCharsets.UTF_8)
            .replace(from, to)
            .getBytes(StandardCharsets.UTF_8);
  }

  @Test
  void anotherFileUnderAGoodNameIsRefused() throws IOException {
    repack(Map.of("layroom.db", bytes -> new byte[bytes.length]), Map.of());
    assertTrue(refusal().contains("checksum"));
    assertNothingChanged();
  }

  /** Packed by somebody who knows the format: length and checksum of the entry are right. */
  private void repackRight(String name, byte[] content) throws Exception {
    String sha256 = HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(content));
    Change list =
        bytes -> {
          try {
            ObjectNode manifest = (ObjectNode) JsonMapper.builder().build().readTree(bytes);
            for (JsonNode part : manifest.path("files")) {
              if (part.path("name").asText().equals(name)) {
                ((ObjectNode) part).put("bytes", content.length).put("sha256", sha256);
              }
            }
            return manifest.toString().getBytes(StandardCharsets.UTF_8);
          } catch (IOException e) {
            throw new UncheckedIOException(e);
          }
        };
    repack(Map.of("manifest.json", list, name, bytes -> content), Map.of());
  }

  /** A start would read each of them, so a restore does first. */
  @Test
  void aMaterialThatNoDashboardCanReadIsRefused() throws Exception {
    byte[] large = (CAN + " ".repeat(300_000)).getBytes(StandardCharsets.UTF_8);
    for (byte[] bad : List.of(large, "no JSON".getBytes(StandardCharsets.UTF_8), new byte[0])) {
      repackRight("materials/my-can.json", bad);
      assertTrue(refusal().contains("is no material"), refusal());
      assertNothingChanged();
    }
  }

  @Test
  void aStoreWithATriggerAViewOrATableOfAnothersMakingIsRefused() throws Exception {
    byte[] good;
    try (ZipFile zip = new ZipFile(file.toFile())) {
      good = zip.getInputStream(zip.getEntry("layroom.db")).readAllBytes();
    }
    for (String foreign :
        List.of(
            "create trigger t after insert on reading begin delete from event; end",
            "create view v as select 1",
            "create table t(x)",
            "drop index reading_time",
            "alter table setting add column more text")) {
      Path store = Files.write(folder.resolve("foreign.db"), good);
      try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + store);
          Statement statement = connection.createStatement()) {
        statement.execute(foreign);
      }
      repackRight("layroom.db", Files.readAllBytes(store));
      assertTrue(refusal().contains("cannot be used"), foreign + ": " + refusal());
      assertNothingChanged();
    }
    repackRight("layroom.db", good);
    restore(false);
  }

  @Test
  void aBackupOfANewerLayroomIsRefusedWithWhatToDo() throws IOException {
    repack(Map.of("manifest.json", text("\"format\":1", "\"format\":2")), Map.of());
    assertTrue(refusal().contains("newer Layroom"));
    assertNothingChanged();
  }

  @Test
  void aFileThatItsListDoesNotNameIsRefused() throws IOException {
    repack(Map.of(), Map.of("materials/../../evil.json", new byte[] {'{', '}'}));
    assertTrue(refusal().contains("do not match its list"));
    assertNothingChanged();
  }

  @Test
  void aNameThatLeadsOutOfTheFolderIsRefused() throws IOException {
    repack(
        Map.of("manifest.json", text("materials/my-can.json", "materials/../../x.json")),
        Map.of("materials/../../x.json", "{\"id\":\"my-can\"}".getBytes(StandardCharsets.UTF_8)));
    assertTrue(refusal().contains("does not belong"));
    assertFalse(Files.exists(folder.resolve("x.json")));
  }

  @Test
  void anyOtherZipIsRefused() throws IOException {
    try (ZipOutputStream zip = new ZipOutputStream(Files.newOutputStream(file))) {
      zip.putNextEntry(new ZipEntry("holiday.jpg"));
      zip.closeEntry();
    }
    assertTrue(refusal().contains("no list"));
    assertNothingChanged();
  }

  @Test
  void aMissingFileIsSaid() {
    file = folder.resolve("nowhere.zip");
    assertTrue(refusal().contains("nowhere.zip"));
  }

  @Test
  void whatIsThereIsOnlySetAsideWhenThatIsSaid() throws IOException {
    try (Store store = StoreFolder.open(home)) {
      store.append(List.of(sample(1)));
    }
    Files.createDirectories(home.resolve("materials"));
    Files.writeString(home.resolve("materials").resolve("my-can.json"), "{\"id\":\"mine\"}");
    assertTrue(refusal().contains("--replace"));
    try (Store store = StoreFolder.open(home)) {
      assertEquals(1, readings(store));
    }
    Restore.Done done = restore(true);
    assertEquals(2, done.setAside().size());
    assertEquals("{\"id\":\"mine\"}", Files.readString(done.setAside().get(1)));
    try (Store store = StoreFolder.open(home)) {
      assertEquals(SAMPLES, readings(store));
    }
    Files.move(home.resolve("layroom.db"), folder.resolve("away.db"));
    Files.move(done.setAside().get(0), home.resolve("layroom.db"));
    try (Store store = StoreFolder.open(home)) {
      assertEquals(1, readings(store));
    }
  }

  @Test
  void theHomeOfARunningDashboardIsRefused() throws IOException {
    try (Store store = StoreFolder.open(home)) {
      assertTrue(
          String.valueOf(assertThrows(BackupFailure.class, () -> restore(true)).getMessage())
              .contains("in use by another"));
      assertEquals(0, readings(store));
    }
  }

  @Test
  void aSecondBackupAtTheSameTimeIsToldToWait() throws IOException {
    try (Store store = StoreFolder.open(old)) {
      Backups backups = new Backups(store, old, old.resolve("materials"), Map.of(), () -> NOON);
      List<String> words = new ArrayList<>();
      backups.write(
          () -> {
            Thread other =
                new Thread(
                    () ->
                        words.add(
                            String.valueOf(
                                assertThrows(
                                        BackupFailure.class,
                                        () -> backups.write(ByteArrayOutputStream::new))
                                    .getMessage())));
            other.start();
            try {
              other.join();
            } catch (InterruptedException e) {
              throw new IOException(e);
            }
            return new ByteArrayOutputStream();
          });
      assertTrue(words.get(0).contains("again in a minute"));
    }
  }
}
