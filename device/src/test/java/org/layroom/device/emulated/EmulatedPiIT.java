package org.layroom.device.emulated;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceMessage.Sample;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.SampleTime;
import org.layroom.device.testing.Mosquitto;
import org.layroom.device.testing.StandInDashboard;

/**
 * The shipped jar on an emulated Raspberry Pi 3B, looked at from outside through a real broker:
 * figures set in the simulated chips arrive, and chips, wires, broker and program fail by turns.
 *
 * <p>The figures expected: SHT4x data sheet section 4.6, worked out by hand: word 0x6666 is 0.4 of
 * full scale, so -45 + 175 x 0.4 = 25 degC; 0x8000 is 56.501 %; 0x6C00 is 28.829 degC; 0x9000 is
 * 64.314 %. DS18B20 data sheet, table of temperatures: 0x0191 is 25.0625, 0x00A2 is 10.125, 0xFF5E
 * is -10.125, 0x0550 is 85 degC; the kernel cuts off after three decimals. BMP280 data sheet
 * section 3.12, whose formulas the BME280 shares: 25.08 degC and 100653.27 Pa. The BME280's
 * humidity of 45.25 % is worked out outside this project with the integer code of its sheet's
 * section 4.2.3 (from memory).
 */
@Tag("emulated-pi")
@Timeout(300)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class EmulatedPiIT {
  private static final Channel CHANNEL = Channel.of("shop", "bench");
  private static final Duration SOON = Duration.ofSeconds(90);
  private static final String MOLD = "28-00000a5e0001";
  private static final String RESIN = "28-00000a5e0002";
  private static final String I2C = "/sys/module/bench_i2c/parameters/";
  private static final String ONE_WIRE = "/sys/module/bench_w1/parameters/";
  private static final String UNIT = "/usr/lib/systemd/system/layroom-device.service";
  private static final String SETTINGS = "/etc/layroom/device.properties";
  private static final String GPIO = "/sys/kernel/debug/gpio";

  /** Every figure that the chips are told to show in this test; any other would be made up. */
  private static final Map<String, Set<Double>> SHOWN =
      Map.of(
          "temperature", Set.of(25.0, 28.829, 25.082),
          "mold-temperature/infrared", Set.of(28.01),
          "pid-voltage", Set.of(1.0),
          "humidity", Set.of(56.501, 64.314, 45.249),
          "pressure", Set.of(100_653.27),
          "mold-temperature", Set.of(25.0625, -10.125),
          "resin-temperature", Set.of(10.125),
          "voc-raw", Set.of(30_000.0, 29_000.0, 0.0));

  private final Deque<AutoCloseable> open = new ArrayDeque<>();
  private Mosquitto broker;
  private StandInDashboard dashboard;
  private EmulatedPi pi;

  @BeforeAll
  @Timeout(1200)
  void boot(@TempDir Path folder) throws Exception {
    broker = Mosquitto.start(Files.createDirectory(folder.resolve("broker")));
    open.push(broker);
    dashboard = StandInDashboard.listen(broker.uri(), CHANNEL);
    open.push(dashboard);
    Path app = Files.createDirectory(folder.resolve("app"));
    ShippedPackage.unpack(app);
    Files.writeString(
        app.resolve("settings"),
        """
        broker.uri=mqtt://10.0.2.2:%d
        sample-seconds=2
        mold.sensor=%s
        resin.sensor=%s
        infrared.emissivity=1
        clean-air.raw=30000
        clean-air.time=2026-11-20T12:00:00Z
        alarm.ok-lamp=17
        alarm.ventilate-lamp=27
        alarm.leave-lamp=22
        alarm.buzzer=23
        """
            .formatted(broker.port(), MOLD, RESIN));
    String probe = GpioProbe.class.getName().replace('.', '/') + ".class";
    Files.createDirectories(app.resolve(probe).getParent());
    Files.copy(Path.of("target", "test-classes", probe), app.resolve(probe));
    Path work = Path.of(System.getProperty("layroom.emulated-pi", "target/emulated-pi"));
    pi = EmulatedPi.boot(Files.createDirectories(work).toAbsolutePath(), app);
    open.push(pi);
    pi.run("cp -r /app/package/* / && cat /app/settings >>" + SETTINGS);
    pi.run(
        "mkdir -p /var/lib/layroom/device && mount -t tmpfs -o size=2m none /var/lib/layroom/device");
    startDevice();
  }

  @AfterAll
  void stop() throws Exception {
    for (AutoCloseable last : open) {
      last.close();
    }
  }

  @AfterEach
  void repair() throws Exception {
    set(I2C + "silent", 0);
    set(I2C + "stuck", 0);
    set(I2C + "damaged", 0);
    set(ONE_WIRE + "absent", "0,0");
    set(ONE_WIRE + "damaged", "0,0");
    set(ONE_WIRE + "sixteenths", 0x0191 + "," + 0x00A2);
  }

  private void startDevice() throws Exception {
    pi.run(
        "$(sed -n 's/^ExecStart=//p' "
            + UNIT
            + ") >/tmp/device.log 2>&1 </dev/null & echo $! >/tmp/device.pid");
    pi.run("until grep -q '^layroom-device ready' /tmp/device.log; do usleep 100000; done");
  }

  /** A setting of the simulated chips. */
  private void set(String parameter, Object value) throws IOException, InterruptedException {
    pi.run("echo " + value + " >" + parameter);
  }

  private List<Reading> readings(Sample sample, String name) {
    return sample.readings().stream().filter(r -> r.name().equals(name)).toList();
  }

  /** Waits until a sample from now on has such a reading; says what came when none does. */
  private Sample awaitReading(String name, Predicate<Reading> wanted) throws Exception {
    long seen = dashboard.samples().isEmpty() ? 0 : dashboard.samples().lastKey();
    boolean came =
        dashboard.await(
            SOON,
            () ->
                dashboard.samples().tailMap(seen, false).values().stream()
                    .anyMatch(s -> readings(s, name).stream().anyMatch(wanted)));
    assertTrue(came, () -> name + " as wanted did not come; last " + lastWords());
    return dashboard.samples().tailMap(seen, false).values().stream()
        .filter(s -> readings(s, name).stream().anyMatch(wanted))
        .findFirst()
        .orElseThrow();
  }

  private String lastWords() {
    String log;
    try {
      log = String.join("\n", pi.run("tail -n 20 /tmp/device.log"));
    } catch (IOException | InterruptedException e) {
      log = e.toString();
    }
    return dashboard.samples().lastEntry() + "\n" + log;
  }

  private static Predicate<Reading> good(double value, double within) {
    return r -> r.quality().isGood() && near(r, value, within);
  }

  private static boolean near(Reading reading, double value, double within) {
    return reading.value().isPresent() && Math.abs(reading.value().getAsDouble() - value) <= within;
  }

  private static Predicate<Reading> fault(String reason) {
    return r ->
        r.value().isEmpty()
            && r.quality() instanceof Quality.Fault fault
            && fault.reason().contains(reason);
  }

  private static Predicate<Reading> suspect(double value, double within, String reason) {
    return r ->
        near(r, value, within)
            && r.quality() instanceof Quality.Suspect suspect
            && suspect.reason().contains(reason);
  }

  private void awaitStatus(Predicate<DeviceStatus> wanted) throws InterruptedException {
    assertTrue(
        dashboard.await(SOON, () -> !dashboard.statuses().isEmpty() && wanted.test(lastStatus())),
        () -> "last status " + lastStatus());
  }

  private DeviceStatus lastStatus() {
    List<DeviceStatus> all = dashboard.statuses();
    return all.get(all.size() - 1);
  }

  private static Predicate<DeviceStatus> tellsOf(String part, String reason) {
    return s ->
        s.online()
            && s.faults().stream()
                .anyMatch(f -> f.part().contains(part) && f.reason().contains(reason));
  }

  /** Everything works as at first. */
  private void awaitAllWell() throws Exception {
    awaitReading("temperature", good(25.0, 0.001));
    awaitReading("mold-temperature", good(25.0625, 0.001));
    awaitStatus(s -> s.online() && s.faults().isEmpty());
    nothingLostNothingMadeUp();
  }

  private void nothingLostNothingMadeUp() {
    assertEquals(List.of(), dashboard.refused());
    assertEquals(dashboard.samples().size(), dashboard.samples().lastKey(), "no number is missing");
    for (Sample sample : dashboard.samples().values()) {
      for (Map.Entry<String, Set<Double>> shown : SHOWN.entrySet()) {
        List<Reading> found = readings(sample, shown.getKey());
        assertTrue(found.size() <= 1, () -> "twice in one sample: " + found);
        for (Reading reading : found) {
          assertTrue(
              reading.value().isEmpty()
                  || shown.getValue().stream().anyMatch(v -> near(reading, v, 0.01)),
              () -> "no chip showed this: " + reading);
        }
      }
    }
  }

  @Test
  @Order(1)
  void figuresSetInTheChipsArriveWithTheAgeOfTheSampleAsTheClockIsNotSet() throws Exception {
    Sample sample = awaitReading("temperature", good(25.0, 0.001));
    assertTrue(readings(sample, "humidity").stream().allMatch(good(56.501, 0.001)), "" + sample);
    assertTrue(readings(sample, "pressure").stream().allMatch(good(100_653.27, 0.01)));
    assertEquals(1, readings(sample, "pressure").size());
    assertTrue(readings(sample, "mold-temperature").stream().allMatch(good(25.0625, 0.001)));
    assertEquals(1, readings(sample, "mold-temperature").size());
    assertTrue(readings(sample, "resin-temperature").stream().allMatch(good(10.125, 0)));
    assertEquals(1, readings(sample, "resin-temperature").size());
    assertTrue(readings(sample, "mold-temperature/infrared").stream().allMatch(good(28.01, 0.001)));
    assertEquals(1, readings(sample, "mold-temperature/infrared").size());
    assertEquals(1, readings(sample, "pid-voltage").size());
    assertTrue(readings(sample, "styrene-estimate").isEmpty(), "not calibrated");
    assertInstanceOf(SampleTime.Ago.class, sample.time());
    awaitStatus(s -> s.online() && s.since().isEmpty() && s.faults().isEmpty());
  }

  @Test
  @Order(2)
  void changesAreSeenAndAJumpIsDoubted() throws Exception {
    set(I2C + "sht4x_t", 0x6C00);
    set(I2C + "sht4x_rh", 0x9000);
    awaitReading("temperature", good(28.829, 0.001));
    awaitReading("humidity", good(64.314, 0.001));
    set(ONE_WIRE + "sixteenths", (short) 0xFF5E + "," + 0x00A2);
    awaitReading("mold-temperature", suspect(-10.125, 0, "jumped"));
    awaitReading("mold-temperature", good(-10.125, 0));
    set(I2C + "sht4x_t", 0x6666);
    set(I2C + "sht4x_rh", 0x8000);
    set(ONE_WIRE + "sixteenths", 0x0191 + "," + 0x00A2);
    awaitAllWell();
  }

  /** SGP40 data sheet: humidity x 65535 / 100, (temperature + 45) x 65535 / 175. */
  @Test
  @Order(3)
  void theVaporChipHearsOfTheAirAndIsDoubtedWhileItSettles() throws Exception {
    awaitReading("voc-raw", suspect(30_000, 0, "settling"));
    set(I2C + "sgp40_raw", 29_000);
    awaitReading("voc-raw", suspect(29_000, 0, "settling"));
    assertEquals(List.of("37028"), pi.run("cat " + I2C + "sgp40_told_rh"));
    assertEquals(List.of("26214"), pi.run("cat " + I2C + "sgp40_told_t"));
  }

  @Test
  @Order(4)
  void aChipThatNoLongerAnswersIsAFaultOfItsOwn() throws Exception {
    set(I2C + "silent", 0x44);
    Sample sample = awaitReading("temperature", fault("no answer at I2C address 0x44"));
    assertTrue(readings(sample, "humidity").stream().allMatch(fault("0x44")), "" + sample);
    assertTrue(readings(sample, "pressure").stream().allMatch(good(100_653.27, 0.01)));
    assertTrue(readings(sample, "mold-temperature").stream().allMatch(good(25.0625, 0.001)));
    awaitReading("voc-raw", suspect(29_000, 0, "not corrected"));
    assertEquals(List.of("32768"), pi.run("cat " + I2C + "sgp40_told_rh"), "the sheet's default");
    awaitStatus(tellsOf("SHT4x", "0x44"));
    set(I2C + "silent", 0x76);
    awaitReading("pressure", fault("no answer at I2C address 0x76"));
    awaitStatus(tellsOf("BME280", "0x76"));
    set(I2C + "silent", 0x59);
    awaitReading("voc-raw", fault("no answer at I2C address 0x59"));
    awaitStatus(tellsOf("SGP40", "0x59"));
    set(I2C + "silent", 0);
    awaitReading("pressure", good(100_653.27, 0.01));
    awaitAllWell();
  }

  @Test
  @Order(5)
  void aWrongCheckByteIsAFaultAndNotANumber() throws Exception {
    set(I2C + "damaged", 0x44);
    Sample sample = awaitReading("temperature", fault("CRC"));
    assertTrue(readings(sample, "humidity").stream().allMatch(fault("CRC")), "" + sample);
    awaitStatus(tellsOf("SHT4x", "CRC"));
    set(I2C + "damaged", 0x5a);
    awaitReading("mold-temperature/infrared", fault("CRC"));
    set(I2C + "damaged", 0x59);
    awaitReading("voc-raw", fault("CRC"));
    awaitStatus(tellsOf("SGP40", "CRC"));
    set(I2C + "damaged", 0);
    awaitAllWell();
  }

  @Test
  @Order(6)
  void aMoldThermometerThatIsUnpluggedDamagedOrJustPoweredOnIsAFaultUntilItWorksAgain()
      throws Exception {
    String known = "/sys/bus/w1/devices/" + MOLD;
    set(ONE_WIRE + "absent", "1,0");
    Sample sample = awaitReading("mold-temperature", fault(""));
    assertTrue(readings(sample, "resin-temperature").stream().allMatch(good(10.125, 0)));
    pi.run("while [ -e " + known + " ]; do usleep 200000; done");
    awaitReading("mold-temperature", fault("does not answer"));
    awaitReading("resin-temperature", good(10.125, 0));
    awaitStatus(tellsOf("mold-temperature", "does not answer"));
    set(ONE_WIRE + "absent", "0,0");
    awaitReading("mold-temperature", good(25.0625, 0.001));
    set(ONE_WIRE + "damaged", "1,0");
    awaitReading("mold-temperature", fault("check"));
    set(ONE_WIRE + "damaged", "0,0");
    awaitReading("mold-temperature", good(25.0625, 0.001));
    set(ONE_WIRE + "sixteenths", 0x0550 + "," + 0x00A2);
    awaitReading("mold-temperature", fault("85 degC"));
    set(ONE_WIRE + "sixteenths", 0x0191 + "," + 0x00A2);
    awaitAllWell();
  }

  @Test
  @Order(7)
  void whatIsMeasuredWhileTheBrokerIsAwayArrivesLater() throws Exception {
    broker.kill();
    pi.run("echo $(($(cut -d. -f1 /proc/uptime) + 60)) >/tmp/minute-later");
    lampsAndBuzzerTellOfVaporWithNoBrokerAtAll();
    pi.run(
        "until [ $(cut -d. -f1 /proc/uptime) -ge $(cat /tmp/minute-later) ]; do usleep 200000; done");
    String size = "$(cat /var/lib/layroom/device/outbox/*.samples | wc -c)";
    pi.run(
        "start=" + size + "; until [ " + size + " -gt $((start + 2000)) ]; do usleep 200000; done");
    long away = dashboard.samples().lastKey();
    broker.restart();
    assertTrue(
        dashboard.await(
            SOON,
            () ->
                dashboard.samples().lastKey() > away + 3
                    && dashboard.samples().lastKey() == dashboard.samples().size()),
        this::lastWords);
    awaitAllWell();
  }

  /**
   * At its end toward vapor a chip is not doubted, so the call to leave comes even while it
   * settles.
   */
  private void lampsAndBuzzerTellOfVaporWithNoBrokerAtAll() throws Exception {
    awaitLine(27, "hi", "unknown: slow flashes");
    awaitLine(27, "lo", "unknown: slow flashes");
    pi.run("! grep -qE 'GPIO(17|22) .*out hi' " + GPIO);
    set(I2C + "sgp40_raw", 0);
    awaitLine(22, "hi", "leave: fast flashes");
    awaitLine(23, "hi", "leave: the buzzer");
    awaitLine(22, "lo", "leave: fast flashes");
    awaitLine(23, "lo", "leave: the buzzer");
    pi.run("! grep -qE 'GPIO17 .*out hi' " + GPIO);
    set(I2C + "sgp40_raw", 29_000);
  }

  /** Waits until the kernel says that a line is high or low. */
  private void awaitLine(int line, String level, String why) throws Exception {
    System.out.println("EmulatedPiIT: waits for GPIO " + line + " " + level + " (" + why + ")");
    pi.run(
        "until grep -qE 'GPIO%d .*out %s' %s; do usleep 20000; done".formatted(line, level, GPIO));
  }

  /** Each transfer takes a second until the kernel gives it up; the lamps do not wait for it. */
  @Test
  @Order(8)
  void aBusThatIsStuckStopsNeitherTheThermometersNorTheLamps() throws Exception {
    set(I2C + "stuck", 1);
    Sample sample = awaitReading("temperature", fault("no answer"));
    assertTrue(readings(sample, "mold-temperature").stream().allMatch(good(25.0625, 0.001)));
    pi.run(
        "for i in 1 2 3; do for level in hi lo; do until grep -qE \"GPIO(22|27) .*out $level\" "
            + GPIO
            + "; do usleep 20000; done; done; done");
    set(I2C + "stuck", 0);
    awaitAllWell();
  }

  @Test
  @Order(9)
  void aFullDiskIsToldOfAndWhatWasKeptIsNotLost() throws Exception {
    pi.run("dd if=/dev/zero of=/var/lib/layroom/device/filler bs=4k >/dev/null 2>&1; true");
    awaitStatus(tellsOf("outbox", "disk"));
    pi.run("rm /var/lib/layroom/device/filler");
    awaitAllWell();
  }

  @Test
  @Order(10)
  void killedAndStartedAgainWithoutItsAirSensorItGoesOnWithTheOther() throws Exception {
    long before = dashboard.samples().lastKey();
    pi.run("kill -9 $(cat /tmp/device.pid)");
    awaitStatus(s -> !s.online());
    set(I2C + "silent", 0x44);
    startDevice();
    Sample sample = awaitReading("temperature", good(25.082, 0.001));
    assertTrue(readings(sample, "humidity").stream().allMatch(good(45.249, 0.1)), "" + sample);
    assertTrue(readings(sample, "pressure").stream().allMatch(good(100_653.27, 0.01)));
    assertTrue(sample.position().orElseThrow().sequence() > before);
    set(I2C + "silent", 0);
    assertTrue(
        dashboard.await(SOON, () -> dashboard.samples().lastKey() == dashboard.samples().size()),
        this::lastWords);
    assertEquals(
        1,
        dashboard.samples().values().stream()
            .map(s -> s.position().orElseThrow().outbox())
            .distinct()
            .count());
    nothingLostNothingMadeUp();
  }

  @Test
  @Order(11)
  void onceTheClockIsSetSamplesCarryTheTime() throws Exception {
    pi.run("date -u -s '2026-11-25 12:00:00'");
    long set = dashboard.samples().lastKey();
    Instant noon = Instant.parse("2026-11-25T12:00:00Z");
    assertTrue(
        dashboard.await(
            SOON,
            () ->
                dashboard.samples().tailMap(set, false).values().stream()
                    .anyMatch(s -> near(s, noon))),
        this::lastWords);
    nothingLostNothingMadeUp();
  }

  /** A week forward and two weeks back: numbers go on, and times follow the clock. */
  @Test
  @Order(12)
  void aClockSetByAWeekLosesNothing() throws Exception {
    for (String day : List.of("2026-12-02", "2026-11-18")) {
      pi.run("date -u -s '" + day + " 12:00:00'");
      Instant noon = Instant.parse(day + "T12:00:00Z");
      long set = dashboard.samples().lastKey();
      assertTrue(
          dashboard.await(
              SOON,
              () ->
                  dashboard.samples().tailMap(set, false).values().stream()
                          .filter(s -> near(s, noon))
                          .count()
                      >= 3),
          this::lastWords);
      awaitStatus(s -> s.online());
    }
    assertTrue(
        dashboard.await(SOON, () -> dashboard.samples().lastKey() == dashboard.samples().size()),
        this::lastWords);
    nothingLostNothingMadeUp();
  }

  private static boolean near(Sample sample, Instant noon) {
    return sample.time() instanceof SampleTime.At at
        && Duration.between(noon, at.instant()).abs().toMinutes() < 2;
  }

  /** The 80 MB are this project's own aim for a Pi with 512 MB. */
  @Test
  @Order(13)
  void itStaysSmall() throws Exception {
    String line = pi.run("grep VmHWM /proc/$(cat /tmp/device.pid)/status").get(0);
    int kilobytes = Integer.parseInt(line.replaceAll("\\D", ""));
    System.out.println("EmulatedPiIT: at most " + kilobytes / 1024 + " MB of memory");
    assertTrue(kilobytes < 80 * 1024, line);
  }

  @Test
  @Order(14)
  void stoppedItSaysGoodbye() throws Exception {
    assertTrue(lastStatus().online());
    pi.run("kill $(cat /tmp/device.pid)");
    awaitStatus(s -> !s.online());
    pi.run("while [ -e /proc/$(cat /tmp/device.pid)/status ]; do usleep 100000; done");
    nothingLostNothingMadeUp();
  }

  @Test
  @Order(15)
  void theCheckTellsWhatIsWiredAndWhatItReads() throws Exception {
    List<String> lines = pi.run("layroom-device check 2>/dev/null");
    assertTrue(lines.contains("found  air sensor SHT4x at I2C address 0x44 on bus 1"), "" + lines);
    assertTrue(
        lines.contains(
            "found  vapor detector (PID) behind an ADS1115 at I2C address 0x48 on bus 1"),
        "" + lines);
    assertTrue(lines.contains("reads  mold-temperature/infrared: 28.01 degC"), "" + lines);
    assertTrue(lines.contains("reads  temperature: 25.00 degC"), "" + lines);
    assertTrue(lines.contains("reads  resin-temperature: 10.13 degC"), "" + lines);
    assertTrue(lines.contains("reads  pressure: 100653.27 Pa"), "" + lines);
    assertTrue(lines.stream().noneMatch(line -> line.startsWith("fault")), "" + lines);
  }

  @Test
  @Order(16)
  void aLineIsSwitchedAndGivenBackOff() throws Exception {
    List<String> said =
        pi
            .run(
                "java -cp /app:/usr/share/layroom/layroom-device.jar "
                    + GpioProbe.class.getName()
                    + " 17 22 2>&1")
            .stream()
            .filter(line -> line.startsWith("probe"))
            .toList();
    assertTrue(kernelSays(said, "at first", "GPIO17", "out lo"), "" + said);
    assertTrue(kernelSays(said, "on", "GPIO17", "out hi"), "" + said);
    assertTrue(kernelSays(said, "off", "GPIO17", "out lo"), "" + said);
    assertTrue(kernelSays(said, "input", "GPIO22", "in "), "" + said);
    assertFalse(kernelSays(said, "closed", "GPIO17", "out hi"), "" + said);
  }

  /** As on a Pi whose I2C was never switched on. */
  @Test
  @Order(17)
  void withoutAnI2cBusItSaysWhatToSwitchOnAndReadsTheThermometers() throws Exception {
    pi.run("rmmod bench_i2c");
    startDevice();
    awaitReading("mold-temperature", good(25.0625, 0.001));
    awaitStatus(tellsOf("I2C bus", "raspi-config"));
    pi.run("insmod /modules/bench_i2c.ko");
    awaitReading("temperature", good(25.0, 0.001));
    pi.run("kill $(cat /tmp/device.pid)");
    awaitStatus(s -> !s.online());
  }

  private static boolean kernelSays(List<String> said, String when, String line, String state) {
    return said.stream()
        .anyMatch(s -> s.startsWith("probe " + when) && s.contains(line) && s.contains(state));
  }
}
