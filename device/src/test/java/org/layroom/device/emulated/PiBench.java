package org.layroom.device.emulated;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Topic;
import org.layroom.device.testing.Mosquitto;
import org.layroom.device.testing.StandInDashboard;

/**
 * The emulated Pi with everything around it: a broker that lets the device in by a login of its
 * own, with the access list that {@code layroom broker-files} writes; simulated chips; the
 * dashboard's end of the line.
 */
final class PiBench implements AutoCloseable {
  static final Channel CHANNEL = Channel.of("shop", "bench");
  static final String MOLD = "28-00000a5e0001";
  static final String RESIN = "28-00000a5e0002";
  static final String I2C = "/sys/module/bench_i2c/parameters/";
  static final String ONE_WIRE = "/sys/module/bench_w1/parameters/";
  static final String DATA = "/var/lib/layroom/device";

  /** Lines of the lamps, the buzzer and the fan, as in the hardware notes. */
  static final int MIX_LAMP = 17;

  static final int WAIT_LAMP = 18;
  static final int VENTILATE_LAMP = 27;
  static final int LEAVE_LAMP = 22;
  static final int BUZZER = 23;
  static final int BUTTON = 24;
  static final int FAN = 25;

  private static final String UNIT = "/usr/lib/systemd/system/layroom-device.service";
  private static final String SETTINGS = "/etc/layroom/device.properties";
  private static final String KERNEL_LINES = "/sys/kernel/debug/gpio";
  private static final String PASSWORD = "abcde-fghjk-mnpqr-stuvw";

  private final Deque<AutoCloseable> open = new ArrayDeque<>();
  private final Path folder;
  private final Mosquitto broker;
  private final StandInDashboard dashboard;
  private final EmulatedPi pi;

  /** Boots, installs, pairs and starts the device. */
  PiBench() throws Exception {
    folder = Files.createTempDirectory("layroom-emulated-pi");
    open.push(this::deleteFolder);
    broker = brokerWithALogin(Files.createDirectory(folder.resolve("broker")));
    open.push(broker);
    dashboard = StandInDashboard.listen(broker.uri(), CHANNEL);
    open.push(dashboard);
    Path work = Path.of(System.getProperty("layroom.emulated-pi", "target/emulated-pi"));
    pi = EmulatedPi.boot(Files.createDirectories(work).toAbsolutePath(), app());
    open.push(pi);
    pi.run("cp -r /app/package/* / && cat /app/settings >>" + SETTINGS);
    pi.run("mkdir -p " + DATA + " && mount -t tmpfs -o size=2m none " + DATA);
    pair();
    startDevice();
  }

  /** Others come in without a name, so that the dashboard's end needs none. */
  private static Mosquitto brokerWithALogin(Path folder) throws IOException, InterruptedException {
    Path passwords = folder.resolve("passwords");
    Process made =
        new ProcessBuilder(
                "mosquitto_passwd", "-b", "-c", passwords.toString(), CHANNEL.user(), PASSWORD)
            .inheritIO()
            .start();
    assertEquals(0, made.waitFor(), "mosquitto_passwd");
    Path access = folder.resolve("access");
    String said = topics("write", Topic.READINGS, Topic.STATUS, Topic.ALARM);
    String heard = topics("read", Topic.STORED, Topic.SETTINGS, Topic.ACKNOWLEDGE);
    Files.writeString(
        access,
        "topic readwrite #\nuser %s\n%s%stopic read %s\ntopic read %s\n"
            .formatted(
                CHANNEL.user(), said, heard, Topic.DASHBOARD, Topic.verdict(CHANNEL.room())));
    return Mosquitto.start(
        folder, "allow_anonymous true", "password_file " + passwords, "acl_file " + access);
  }

  private static String topics(String may, Topic... kinds) {
    return Stream.of(kinds)
        .map(kind -> "topic " + may + " " + CHANNEL.topic(kind) + "\n")
        .collect(Collectors.joining());
  }

  private Path app() throws IOException, InterruptedException {
    Path app = Files.createDirectory(folder.resolve("app"));
    ShippedPackage.unpack(app);
    Files.writeString(
        app.resolve("settings"),
        """
        sample-seconds=2
        mold.sensor=%s
        resin.sensor=%s
        infrared.emissivity=1
        clean-air.raw=30000
        clean-air.time=2026-11-20T12:00:00Z
        alarm.mix-lamp=%d
        alarm.wait-lamp=%d
        alarm.ventilate-lamp=%d
        alarm.leave-lamp=%d
        alarm.buzzer=%d
        alarm.mute-button=%d
        fan.relay=%d
        fan.motor=out-of-stream
        """
            .formatted(
                MOLD, RESIN, MIX_LAMP, WAIT_LAMP, VENTILATE_LAMP, LEAVE_LAMP, BUZZER, BUTTON, FAN));
    String probe = GpioProbe.class.getName().replace('.', '/') + ".class";
    Files.createDirectories(app.resolve(probe).getParent());
    Files.copy(Path.of("target", "test-classes", probe), app.resolve(probe));
    return app;
  }

  /** As a person does who has typed {@code layroom pair-device} at the dashboard's machine. */
  private void pair() throws IOException, InterruptedException {
    String typed = "'10.0.2.2:" + broker.port() + "\\n" + PASSWORD + "\\n'";
    List<String> said = pi.run("printf " + typed + " | layroom-device pair 2>&1");
    assertEquals(1, said.stream().filter(line -> line.contains("Paired with")).count(), "" + said);
  }

  EmulatedPi pi() {
    return pi;
  }

  Mosquitto broker() {
    return broker;
  }

  StandInDashboard dashboard() {
    return dashboard;
  }

  /** Starts it by the command of its systemd unit, and waits until it is ready. */
  void startDevice() throws IOException, InterruptedException {
    startDevice("");
  }

  /**
   * The same with more in its environment.
   *
   * @param environment as before a command in a shell
   */
  void startDevice(String environment) throws IOException, InterruptedException {
    pi.run("cut -d' ' -f1 /proc/uptime >/tmp/device.started; : >/tmp/device.log");
    pi.run(
        environment
            + " $(sed -n 's/^ExecStart=//p' "
            + UNIT
            + ") >/tmp/device.log 2>&1 </dev/null & echo $! >/tmp/device.pid");
    pi.run("until grep -q '^layroom-device ready' /tmp/device.log; do usleep 100000; done");
    System.out.println("PiBench: ready " + secondsSinceStart() + " s after the start");
  }

  /** As a power cut would, but for the Pi. */
  void killDevice() throws IOException, InterruptedException {
    pi.run("kill -9 $(cat /tmp/device.pid)");
    gone();
  }

  void stopDevice() throws IOException, InterruptedException {
    pi.run("kill $(cat /tmp/device.pid)");
  }

  /** Waits until the process is gone. */
  void gone() throws IOException, InterruptedException {
    pi.run("while [ -e /proc/$(cat /tmp/device.pid)/status ]; do usleep 100000; done");
  }

  /** Lets another program take a line, until {@link #otherProgramGone}. */
  void otherProgramTakes(int line) throws IOException, InterruptedException {
    pi.run("rm -f /tmp/free; : >/tmp/other.log");
    pi.run(
        "java -cp /app:/usr/share/layroom/layroom-device.jar "
            + GpioProbe.class.getName()
            + " hold "
            + line
            + " /tmp/free >/tmp/other.log 2>&1 </dev/null &");
    pi.run("until grep -q '^probe holds' /tmp/other.log; do usleep 100000; done");
  }

  void otherProgramGone() throws IOException, InterruptedException {
    pi.run("touch /tmp/free; until grep -q '^probe gone' /tmp/other.log; do usleep 100000; done");
  }

  /** Seconds since the device was started, by the Pi's own clock. */
  double secondsSinceStart() throws IOException, InterruptedException {
    String now = pi.run("cut -d' ' -f1 /proc/uptime").get(0);
    String then = pi.run("cat /tmp/device.started").get(0);
    return Double.parseDouble(now) - Double.parseDouble(then);
  }

  /** Seconds that a command takes, by the Pi's own clock. */
  double secondsOf(String command) throws IOException, InterruptedException {
    String look = "cut -d' ' -f1 /proc/uptime";
    List<String> said = pi.run(look + "; " + command + " >/dev/null 2>&1; " + look);
    return Double.parseDouble(said.get(1)) - Double.parseDouble(said.get(0));
  }

  /** What systemd runs when the service has ended, however it ended. */
  void afterTheEnd(String result) throws IOException, InterruptedException {
    pi.run("SERVICE_RESULT=" + result + " $(sed -n 's/^ExecStopPost=-//p' " + UNIT + ")");
  }

  /** A setting of the simulated chips. */
  void set(String parameter, Object value) throws IOException, InterruptedException {
    pi.run("echo " + value + " >" + parameter);
  }

  /** Both thermometers, in sixteenths of a degree. */
  void setThermometers(int mold, int resin) throws IOException, InterruptedException {
    set(ONE_WIRE + "sixteenths", (short) mold + "," + (short) resin);
  }

  /** Every chip answers, and shows what it showed at first but for the vapor chip. */
  void repair() throws IOException, InterruptedException {
    set(I2C + "silent", 0);
    set(I2C + "stuck", 0);
    set(I2C + "damaged", 0);
    set(I2C + "bad_one_in", 0);
    set(ONE_WIRE + "absent", "0,0");
    set(ONE_WIRE + "damaged", "0,0");
    setThermometers(0x0191, 0x00A2);
  }

  /** Waits until the kernel says that a line is high or low. */
  void awaitLine(int line, String level, String why) throws IOException, InterruptedException {
    System.out.println("PiBench: waits for GPIO " + line + " " + level + " (" + why + ")");
    pi.run("until " + seen(line, level) + "; do usleep 20000; done");
  }

  /** Waits until the lamps of the air have changed six times. */
  void awaitFlashes() throws IOException, InterruptedException {
    String now =
        "$(grep -E 'GPIO(%d|%d) .*out' %s)".formatted(VENTILATE_LAMP, LEAVE_LAMP, KERNEL_LINES);
    pi.run(
        "for i in 1 2 3 4 5 6; do before=\""
            + now
            + "\"; until [ \""
            + now
            + "\" != \"$before\" ]; do usleep 20000; done; done");
  }

  /** Looks for three seconds, ten times in each, whether the kernel says so every time. */
  void holdsLine(int line, String level) throws IOException, InterruptedException {
    pi.run("for i in $(seq 30);" + " do " + seen(line, level) + " || exit 1; usleep 100000; done");
  }

  /** Whether no line of the device is driven high now. */
  void everyLineIsOff() throws IOException, InterruptedException {
    pi.run(
        "! grep -E 'GPIO(%d|%d|%d|%d|%d|%d) .*out hi' %s"
            .formatted(MIX_LAMP, WAIT_LAMP, VENTILATE_LAMP, LEAVE_LAMP, BUZZER, FAN, KERNEL_LINES));
  }

  /** Fails where a line is driven high now. */
  void isNotLit(int line) throws IOException, InterruptedException {
    pi.run("! " + seen(line, "hi"));
  }

  private static String seen(int line, String level) {
    return "grep -qE 'GPIO%d .*out %s' %s".formatted(line, level, KERNEL_LINES);
  }

  /** The program's last words. */
  String log() {
    try {
      return String.join("\n", pi.run("tail -n 20 /tmp/device.log"));
    } catch (IOException | InterruptedException e) {
      return e.toString();
    }
  }

  private void deleteFolder() throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      for (Path one : all.sorted((a, b) -> b.compareTo(a)).toList()) {
        Files.delete(one);
      }
    }
  }

  @Override
  public void close() throws Exception {
    for (AutoCloseable last : open) {
      last.close();
    }
  }
}
