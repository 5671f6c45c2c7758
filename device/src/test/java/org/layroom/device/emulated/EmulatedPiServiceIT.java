package org.layroom.device.emulated;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.layroom.device.emulated.Arrivals.good;
import static org.layroom.device.emulated.Arrivals.tellsOf;
import static org.layroom.device.emulated.PiBench.FAN;
import static org.layroom.device.emulated.PiBench.LEAVE_LAMP;

import java.util.List;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.extension.ExtendWith;

/** What a person or systemd does with the shipped device on an emulated Pi: stop, check, switch. */
@Tag("emulated-pi")
@ExtendWith(OnePi.class)
@Order(4)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class EmulatedPiServiceIT {
  private final PiBench bench;
  private final Arrivals came;

  EmulatedPiServiceIT(PiBench bench) {
    this.bench = bench;
    came = new Arrivals(bench);
  }

  /** The 80 MB are this project's own aim for a Pi with 512 MB. */
  @Test
  @Order(1)
  void itStaysSmall() throws Exception {
    String line = bench.pi().run("grep VmHWM /proc/$(cat /tmp/device.pid)/status").get(0);
    int kilobytes = Integer.parseInt(line.replaceAll("\\D", ""));
    System.out.println("EmulatedPiServiceIT: at most " + kilobytes / 1024 + " MB of memory");
    assertTrue(kilobytes < 80 * 1024, line);
  }

  @Test
  @Order(2)
  void stoppedItSaysGoodbye() throws Exception {
    assertTrue(came.lastStatus().online());
    bench.stopDevice();
    came.awaitStatus(s -> !s.online());
    bench.gone();
    came.nothingLostNothingMadeUp();
  }

  @Test
  @Order(3)
  void theCheckTellsWhatIsWiredAndWhatItReads() throws Exception {
    List<String> lines = bench.pi().run("layroom-device check 2>/dev/null");
    assertTrue(lines.contains("found  air sensor SHT4x at I2C address 0x44 on bus 1"), "" + lines);
    assertTrue(
        lines.contains(
            "found  vapor detector (PID) behind an ADS1115 at I2C address 0x48 on bus 1"),
        "" + lines);
    assertTrue(lines.contains("reads  mold-temperature/infrared: 28.01 °C"), "" + lines);
    assertTrue(lines.contains("reads  temperature: 25.00 °C"), "" + lines);
    assertTrue(lines.contains("reads  resin-temperature: 10.13 °C"), "" + lines);
    assertTrue(lines.contains("reads  pressure: 100653.27 Pa"), "" + lines);
    assertTrue(lines.contains("found  line of the leave lamp, GPIO 22"), "" + lines);
    assertTrue(lines.stream().noneMatch(line -> line.startsWith("fault")), "" + lines);
    assertTrue(lines.stream().noneMatch(line -> line.contains("not a Raspberry Pi")), "" + lines);
  }

  @Test
  @Order(4)
  void lampsBuzzerAndFanAreTestedByHand() throws Exception {
    bench
        .pi()
        .run("(layroom-device check --lamps; echo ended) >/tmp/lamps 2>/dev/null </dev/null &");
    bench.awaitLine(LEAVE_LAMP, "hi", "by hand");
    bench.awaitLine(FAN, "hi", "by hand");
    bench.pi().run("until grep -q ended /tmp/lamps; do usleep 200000; done");
    bench.pi().run("[ $(grep -c ^test /tmp/lamps) = 6 ] && ! grep fault /tmp/lamps");
    bench.everyLineIsOff();
  }

  @Test
  @Order(5)
  void aLineIsSwitchedAndGivenBackOff() throws Exception {
    List<String> said =
        bench
            .pi()
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
  @Order(6)
  void withoutAnI2cBusItSaysWhatToSwitchOnAndReadsTheThermometers() throws Exception {
    bench.pi().run("rmmod bench_i2c");
    bench.startDevice();
    came.awaitReading("mold-temperature", good(25.0625, 0.001));
    came.awaitStatus(tellsOf("I2C bus", "raspi-config"));
    bench.pi().run("insmod /modules/bench_i2c.ko");
    came.awaitReading("temperature", good(25.0, 0.001));
    bench.stopDevice();
    came.awaitStatus(s -> !s.online());
  }

  @Test
  @Order(7)
  void aLampLineThatAnotherProgramHasIsToldAndMeasuringGoesOn() throws Exception {
    bench.otherProgramTakes(LEAVE_LAMP);
    bench.startDevice();
    came.awaitStatus(tellsOf("leave lamp", "GPIO line 22"));
    long before = came.last();
    came.await(() -> came.last() > before + 2);
    bench.otherProgramGone();
    came.awaitStatus(
        s -> s.online() && s.faults().stream().noneMatch(f -> f.part().equals("leave lamp")));
    bench.stopDevice();
    came.awaitStatus(s -> !s.online());
    bench.gone();
  }

  /**
   * There is no systemd here: a program of its name writes down what it would hear. One word every
   * third of the 15 s that it would wait; a program that hangs says nothing more and is killed.
   */
  @Test
  @Order(8)
  void theWatchdogHearsOfALivingProgramAndNotOfOneThatHangs() throws Exception {
    bench.pi().run("printf '#!/bin/sh\\necho \"$1\" >>/tmp/notified\\n' >/usr/bin/systemd-notify");
    bench.pi().run("chmod +x /usr/bin/systemd-notify; rm -f /tmp/notified");
    bench.startDevice("NOTIFY_SOCKET=/run/none WATCHDOG_USEC=15000000");
    bench.pi().run("until grep -q READY=1 /tmp/notified; do usleep 200000; done");
    bench.pi().run("until [ $(grep -c WATCHDOG=1 /tmp/notified) -ge 3 ]; do usleep 200000; done");
    bench.pi().run("kill -STOP $(cat /tmp/device.pid)");
    bench.pi().run("wc -l </tmp/notified >/tmp/words; sleep 12");
    bench.pi().run("[ $(wc -l </tmp/notified) = $(cat /tmp/words) ]");
    bench.killDevice();
    bench.afterTheEnd("watchdog");
    bench.everyLineIsOff();
  }

  private static boolean kernelSays(List<String> said, String when, String line, String state) {
    return said.stream()
        .anyMatch(s -> s.startsWith("probe " + when) && s.contains(line) && s.contains(state));
  }
}
