package org.layroom.device.emulated;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.layroom.device.emulated.Arrivals.fault;
import static org.layroom.device.emulated.Arrivals.good;
import static org.layroom.device.emulated.Arrivals.tellsOf;
import static org.layroom.device.emulated.PiBench.BUZZER;
import static org.layroom.device.emulated.PiBench.DATA;
import static org.layroom.device.emulated.PiBench.FAN;
import static org.layroom.device.emulated.PiBench.I2C;
import static org.layroom.device.emulated.PiBench.LEAVE_LAMP;
import static org.layroom.device.emulated.PiBench.MIX_LAMP;
import static org.layroom.device.emulated.PiBench.VENTILATE_LAMP;
import static org.layroom.device.emulated.PiBench.WAIT_LAMP;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.extension.ExtendWith;
import org.layroom.device.telemetry.DeviceMessage.Sample;
import org.layroom.device.telemetry.DeviceSettings;

/** The shipped device on an emulated Pi when broker, bus, disk and program fail by turns. */
@Tag("emulated-pi")
@ExtendWith(OnePi.class)
@Order(2)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class EmulatedPiOutagesIT {
  private static final String DOUBT = "The sensor failed its bump test: it is tried here.";

  private final PiBench bench;
  private final Arrivals came;

  EmulatedPiOutagesIT(PiBench bench) {
    this.bench = bench;
    came = new Arrivals(bench);
  }

  @AfterEach
  void repair() throws Exception {
    bench.repair();
  }

  @Test
  @Order(1)
  void whatIsMeasuredWhileTheBrokerIsAwayArrivesLater() throws Exception {
    bench.broker().kill();
    bench.pi().run("echo $(($(cut -d. -f1 /proc/uptime) + 60)) >/tmp/minute-later");
    lampsAndBuzzerTellOfVaporWithNoBrokerAtAll();
    bench
        .pi()
        .run(
            "until [ $(cut -d. -f1 /proc/uptime) -ge $(cat /tmp/minute-later) ]; do usleep 200000; done");
    String size = "$(cat " + DATA + "/outbox/*.samples | wc -c)";
    bench
        .pi()
        .run(
            "start="
                + size
                + "; until [ "
                + size
                + " -gt $((start + 2000)) ]; do usleep 200000; done");
    long away = came.last();
    bench.broker().restart();
    came.await(() -> came.last() > away + 3);
    came.awaitNoGap();
    came.awaitAllWell();
  }

  /** Each transfer takes a second until the kernel gives it up; the lamps do not wait for it. */
  @Test
  @Order(2)
  void aBusThatIsStuckStopsNeitherTheThermometersNorTheLamps() throws Exception {
    bench.set(I2C + "stuck", 1);
    Sample sample = came.awaitReading("temperature", fault("no answer"));
    assertTrue(came.readings(sample, "mold-temperature").stream().allMatch(good(25.0625, 0.001)));
    bench.awaitFlashes();
    bench.set(I2C + "stuck", 0);
    came.awaitAllWell();
  }

  @Test
  @Order(3)
  void aFullDiskIsToldOfAndWhatWasKeptIsNotLost() throws Exception {
    bench.pi().run("dd if=/dev/zero of=" + DATA + "/filler bs=4k >/dev/null 2>&1; true");
    came.awaitStatus(tellsOf("outbox", "disk"));
    bench.pi().run("rm " + DATA + "/filler");
    came.awaitAllWell();
  }

  /**
   * Debian's kernel gives lines back by itself; for the Pi's own the service switches them off. The
   * vapor is held high over the restart, at 16 times clean air: after it the chip's first minute is
   * not used, so that lamp and fan can only come back by what was kept.
   */
  @Test
  @Order(4)
  void killedInBadAirItCallsToLeaveAgainAtOnceAndGoesOnWithTheOtherAirSensor() throws Exception {
    bench.set(I2C + "sgp40_raw", 30_000 - 4 * 870);
    bench.awaitLine(LEAVE_LAMP, "hi", "leave");
    bench.awaitLine(FAN, "hi", "leave");
    long before = came.last();
    double version = bench.secondsOf("layroom-device --version");
    bench.killDevice();
    came.awaitStatus(s -> !s.online());
    bench.everyLineIsOff();
    bench.afterTheEnd("signal");
    bench.everyLineIsOff();
    bench.set(I2C + "silent", 0x44);
    bench.startDevice();
    bench.awaitLine(FAN, "hi", "leave before the restart");
    bench.awaitLine(LEAVE_LAMP, "hi", "leave before the restart");
    double back = bench.secondsSinceStart();
    System.out.println(
        "EmulatedPiOutagesIT: leave and fan are back %.1f s after the start, %.1f times --version"
            .formatted(back, back / version));
    came.awaitReading("voc-raw", fault("warming up"));
    Sample sample = came.awaitReading("temperature", good(25.082, 0.001));
    assertTrue(came.readings(sample, "humidity").stream().allMatch(good(45.249, 0.1)), "" + sample);
    assertTrue(came.readings(sample, "pressure").stream().allMatch(good(100_653.27, 0.01)));
    assertTrue(sample.position().orElseThrow().sequence() > before);
    bench.set(I2C + "silent", 0);
    bench.set(I2C + "sgp40_raw", 29_000);
    came.awaitNoGap();
    assertEquals(
        1,
        bench.dashboard().samples().values().stream()
            .map(s -> s.position().orElseThrow().outbox())
            .distinct()
            .count());
    came.nothingLostNothingMadeUp();
  }

  /** Upstairs a sensor has failed its bump test; the device says so with nobody there, too. */
  @Test
  @Order(5)
  void aSensorThatFailedItsBumpTestIsDoubtedHereAndOverARestartWithNobodyUpstairs()
      throws Exception {
    bench.dashboard().decide(doubting(1, Optional.of(DOUBT)));
    came.awaitAlarm(alarm -> alarm.why().contains(DOUBT));
    bench.dashboard().decideNothing();
    bench.killDevice();
    int before = bench.dashboard().alarms().size();
    bench.startDevice();
    came.await(
        () ->
            bench.dashboard().alarms().stream()
                .skip(before)
                .anyMatch(alarm -> alarm.why().contains(DOUBT)));
    bench.dashboard().decide(doubting(2, Optional.empty()));
    came.awaitAlarm(alarm -> !alarm.why().contains(DOUBT));
    bench.dashboard().decideNothing();
  }

  private static DeviceSettings doubting(int minute, Optional<String> doubt) {
    return new DeviceSettings(
        Instant.parse("2026-11-20T13:00:00Z").plusSeconds(60L * minute),
        "Kim",
        DeviceSettings.Mode.CHIP,
        20,
        40,
        0.45,
        false,
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        List.of(),
        doubt);
  }

  /**
   * At its end toward vapor a chip is not doubted, so the call to leave comes even while it
   * settles.
   */
  private void lampsAndBuzzerTellOfVaporWithNoBrokerAtAll() throws Exception {
    bench.awaitLine(VENTILATE_LAMP, "hi", "unknown: slow flashes");
    bench.awaitLine(VENTILATE_LAMP, "lo", "unknown: slow flashes");
    bench.isNotLit(MIX_LAMP);
    bench.isNotLit(LEAVE_LAMP);
    bench.set(I2C + "sgp40_raw", 0);
    bench.awaitLine(LEAVE_LAMP, "hi", "leave: fast flashes");
    bench.awaitLine(BUZZER, "hi", "leave: the buzzer");
    bench.awaitLine(LEAVE_LAMP, "lo", "leave: fast flashes");
    bench.awaitLine(BUZZER, "lo", "leave: the buzzer");
    bench.awaitLine(FAN, "hi", "leave: the fan");
    bench.isNotLit(MIX_LAMP);
    bench.isNotLit(WAIT_LAMP);
    bench.set(I2C + "sgp40_raw", 29_000);
  }
}
