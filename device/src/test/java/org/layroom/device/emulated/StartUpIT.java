package org.layroom.device.emulated;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.testing.Mosquitto;

/**
 * A benchmark: how long the device takes from its start to its first readings at the broker, on the
 * emulated Pi, against a bare program that opens Pi4J and Paho and publishes once. All in one run,
 * by turns, compared pair by pair. The bound of 1.2 is this project's own aim.
 */
@Tag("start-up")
class StartUpIT {
  private static final int ROUNDS = 7;
  private static final int COLD_ROUNDS = 3;
  private static final String READINGS = "layroom/shop/bench/readings";
  private static final String JAVA =
      "java -XX:+UseSerialGC -Xmx32m -Xss512k -XX:TieredStopAtLevel=1 ";
  private static final String JAR = "/usr/share/layroom/layroom-device.jar";
  private static final String ARCHIVE = "/var/cache/layroom-device/classes.jsa";

  @Test
  @Timeout(2400)
  void theDeviceStartsNearlyAsFastAsABareProgram(@TempDir Path folder) throws Exception {
    Path app = Files.createDirectory(folder.resolve("app"));
    ShippedPackage.unpack(app);
    copyClass(app, BareProgram.class);
    Path work = Path.of(System.getProperty("layroom.emulated-pi", "target/emulated-pi"));
    Path brokerFolder = Files.createDirectory(folder.resolve("broker"));
    try (Mosquitto broker = Mosquitto.start(brokerFolder);
        EmulatedPi pi = EmulatedPi.boot(Files.createDirectories(work).toAbsolutePath(), app)) {
      pi.run("cp -r /app/package/* / && mkdir -p /var/cache/layroom-device");
      String uri = "tcp://10.0.2.2:" + broker.port();
      pi.run(
          "printf 'broker.uri=mqtt://10.0.2.2:%d\\ndata=/tmp/data\\n' >/etc/layroom/device.properties"
              .formatted(broker.port()));
      String bare = JAVA + "-cp /app:" + JAR + " " + BareProgram.class.getName() + " " + uri;
      Starts cold = starts(pi, broker, bare, COLD_ROUNDS);
      pi.run(
          JAVA
              + "-XX:ArchiveClassesAtExit="
              + ARCHIVE
              + " -jar "
              + JAR
              + " rehearse >/dev/null 2>&1");
      Starts installed = starts(pi, broker, bare, ROUNDS);
      tell("device, no class archive", cold);
      tell("device, as installed", installed);
      assertTrue(installed.ratio() < 1.2, "the device as installed starts within 1.2 x");
    }
  }

  /** Starts by turns, so that a machine that grows slower meanwhile slows both. */
  private record Starts(List<Duration> bare, List<Duration> device) {
    /** Median of the ratios pair by pair. */
    double ratio() {
      List<Double> ratios = new ArrayList<>();
      for (int i = 0; i < bare.size(); i++) {
        ratios.add(device.get(i).toMillis() / (double) bare.get(i).toMillis());
      }
      return ratios.stream().sorted().toList().get(ratios.size() / 2);
    }
  }

  private static Starts starts(EmulatedPi pi, Mosquitto broker, String bare, int rounds)
      throws Exception {
    Starts starts = new Starts(new ArrayList<>(), new ArrayList<>());
    for (int round = 0; round < rounds; round++) {
      starts.bare().add(timed(pi, broker, bare, BareProgram.TOPIC));
      starts.device().add(timed(pi, broker, "layroom-device", READINGS));
    }
    return starts;
  }

  private static void tell(String what, Starts starts) {
    System.out.printf(
        "StartUpIT: %-26s median %5.1f s, %.2f x bare (%.1f s)  %s%n",
        what,
        median(starts.device()).toMillis() / 1000.0,
        starts.ratio(),
        median(starts.bare()).toMillis() / 1000.0,
        starts);
  }

  private static Duration median(List<Duration> times) {
    return times.stream().sorted().toList().get(times.size() / 2);
  }

  private static Duration timed(EmulatedPi pi, Mosquitto broker, String command, String topic)
      throws Exception {
    Process listener =
        new ProcessBuilder(
                "mosquitto_sub",
                "-h",
                "127.0.0.1",
                "-p",
                String.valueOf(broker.port()),
                "-t",
                topic,
                "-C",
                "1")
            .redirectErrorStream(true)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .start();
    try {
      long start = System.nanoTime();
      pi.run(command + " >/tmp/start.log 2>&1 </dev/null & echo $! >/tmp/start.pid");
      assertTrue(
          listener.waitFor(3, TimeUnit.MINUTES),
          () -> "nothing came on " + topic + " from " + command);
      Duration took = Duration.ofNanos(System.nanoTime() - start);
      assertEquals(0, listener.exitValue());
      pi.run(
          "kill $(cat /tmp/start.pid) 2>/dev/null; while [ -e /proc/$(cat /tmp/start.pid)/status ];"
              + " do usleep 100000; done; rm -rf /tmp/data");
      return took;
    } finally {
      listener.destroyForcibly();
    }
  }

  private static void copyClass(Path app, Class<?> one) throws Exception {
    String name = one.getName().replace('.', '/') + ".class";
    Files.createDirectories(app.resolve(name).getParent());
    Files.copy(Path.of("target", "test-classes", name), app.resolve(name));
  }
}
