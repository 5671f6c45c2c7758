package org.layroom.dashboard.warning;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.decision.AirJob;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.BumpResult;
import org.layroom.predictor.vapor.CleanAirReading;

/**
 * A vapor sensor is shown to work, or not, over drivers, outbox, broker and store. That a detector
 * is tested with a vapor is common practice; what must come of it is this project's own choice.
 */
class BumpTestsTest {
  @TempDir Path folder;
  private WarnedShop shop;
  private int id;

  @BeforeEach
  void open() throws IOException {
    shop = new WarnedShop(folder);
    Until.within(
        WarnedShop.SOON,
        "the past counts",
        () -> {
          shop.minutes(1);
          return shop.air().call() == AirCall.OK;
        });
  }

  @AfterEach
  void close() throws IOException {
    shop.close();
  }

  private RoomAir.DeviceAir device() {
    return shop.air().devices().get(0);
  }

  private void begin() {
    shop.warnings()
        .sensors()
        .beginBumpTest(WarnedShop.ROOM, Optional.empty(), "bump-test-" + ++id, "Kim");
  }

  private Optional<BumpResult> result() {
    return device().sensor().proof().test();
  }

  private void isItself(String state) {
    Until.within(
        WarnedShop.SOON,
        "the device itself says " + state,
        () -> device().alarm().map(AlarmState::state).filter(state::equals).isPresent());
  }

  private void pass() {
    begin();
    shop.device().wipeDown(12);
    shop.minutes(4);
    assertTrue(result().orElseThrow().passed(), result().toString());
  }

  private void fail() {
    begin();
    shop.minutes(4);
    assertFalse(result().orElseThrow().passed());
  }

  private void job() {
    shop.warnings()
        .jobStarted(
            WarnedShop.ROOM,
            new AirJob(shop.now(), shop.now().plus(Duration.ofHours(2)), "fender", true, true));
  }

  @Test
  void aRiseInTimePassesSoundsForRealAndCalibratesNothing() {
    Optional<CleanAirReading> clean = device().cleanAir();
    pass();
    assertEquals("Kim", device().sensor().tester().orElseThrow().who());
    assertTrue(shop.air().call().compareTo(AirCall.VENTILATE) >= 0, "as by any vapor");
    Until.within(
        WarnedShop.SOON,
        "the device sounds by its own readings",
        () ->
            device()
                .alarm()
                .map(AlarmState::state)
                .filter(state -> state.equals("ventilate") || state.equals("leave"))
                .isPresent());
    assertEquals(clean, device().cleanAir());
    assertEquals(Optional.empty(), device().bumpTestAsked());
    shop.restartDashboard();
    assertTrue(result().orElseThrow().passed(), "kept over a restart");
    assertEquals(1, shop.warnings().sensors().bumpTests(WarnedShop.ROOM).size());
  }

  @Test
  void whatStayedOffInATestIsAskedForAgain() {
    pass();
    shop.warnings()
        .sensors()
        .alarmSeen(WarnedShop.ROOM, Optional.empty(), "bump-seen-1", "Kim", false);
    shop.warnings()
        .sensors()
        .alarmSeen(WarnedShop.ROOM, Optional.empty(), "bump-seen-1", "Kim", true);
    assertTrue(device().bumpTestAsked().orElseThrow().contains("check --lamps"), "said once");
    shop.warnings()
        .sensors()
        .alarmSeen(WarnedShop.ROOM, Optional.empty(), "bump-seen-2", "Kim", true);
    assertEquals(Optional.empty(), device().bumpTestAsked());
  }

  @Test
  void aSensorThatFailsIsUnknownOnBothFloorsUntilItPasses() {
    fail();
    assertEquals(AirCall.UNKNOWN, shop.air().call());
    String words = String.join(" ", shop.air().warnings().get(0).why());
    assertTrue(words.contains("failed its bump test"), words);
    assertEquals(device().sensor().proof().doubt(), device().bumpTestAsked());
    isItself("unknown");
    shop.restartDashboard();
    shop.minutes(1);
    assertEquals(AirCall.UNKNOWN, shop.air().call(), "a restart undoes nothing");
    pass();
    assertEquals(Optional.empty(), device().bumpTestAsked());
    assertEquals(Optional.empty(), device().sensor().proof().doubt());
    assertEquals(2, shop.warnings().sensors().bumpTests(WarnedShop.ROOM).size(), "both are kept");
  }

  @Test
  void aCupWithoutARiseIsUnknownAndARiseInAJobEndsIt() {
    job();
    shop.warnings().sensors().cupMixed(WarnedShop.ROOM, shop.now(), 250);
    shop.minutes(14);
    assertEquals(AirCall.OK, shop.air().call());
    shop.minutes(3);
    assertEquals(AirCall.UNKNOWN, shop.air().call());
    assertTrue(device().bumpTestAsked().orElseThrow().contains("no rise within 15 min"));
    isItself("unknown");
    shop.device().fan(false);
    shop.device().startLayup(80);
    shop.minutes(10);
    assertEquals(Optional.empty(), device().sensor().proof().doubt());
    assertTrue(device().sensor().proof().rise().isPresent());
    assertTrue(shop.air().call().compareTo(AirCall.VENTILATE) >= 0);
  }

  @Test
  void aCupWithARiseASmallCupAndOneTakenBackAskForNothing() {
    job();
    shop.warnings().sensors().cupMixed(WarnedShop.ROOM, shop.now(), 40);
    shop.minutes(17);
    shop.warnings().sensors().cupMixed(WarnedShop.ROOM, shop.now(), 250);
    shop.minutes(2);
    shop.warnings().sensors().noCup(WarnedShop.ROOM);
    shop.minutes(17);
    assertEquals(Optional.empty(), device().bumpTestAsked());
    shop.warnings().sensors().cupMixed(WarnedShop.ROOM, shop.now(), 250);
    shop.device().startLayup(40);
    shop.minutes(17);
    assertEquals(Optional.empty(), device().sensor().proof().doubt());
    assertTrue(device().sensor().proof().rise().isPresent());
  }

  @Test
  void noTestBeginsInAJobAndOneThatIsSaidTwiceIsOne() {
    begin();
    id--;
    begin();
    shop.minutes(4);
    assertEquals(1, shop.warnings().sensors().bumpTests(WarnedShop.ROOM).size());
    job();
    shop.minutes(1);
    assertThrows(IllegalArgumentException.class, this::begin);
  }

  private void newSensor(String saidAs) {
    shop.warnings().sensors().newSensor(WarnedShop.ROOM, Optional.empty(), saidAs, "Kim");
  }

  /** What the old chip taught would judge the new one, on both floors. */
  @Test
  void aNewSensorStartsAnewAndIsUnknownUntilItsOwnCleanAirReading() {
    fail();
    newSensor("new-sensor-1");
    assertEquals(Optional.empty(), device().cleanAir());
    assertEquals(Optional.empty(), result());
    assertEquals(Duration.ZERO, device().sensor().on());
    assertTrue(device().bumpTestAsked().orElseThrow().contains("new sensor"));
    shop.restartDashboard();
    shop.minutes(1);
    assertEquals(Optional.empty(), device().cleanAir(), "a restart brings nothing back");
    assertFalse(device().sensor().proof().since().isBefore(WarnedShop.START), "nor a late reading");
    assertEquals(AirCall.UNKNOWN, shop.air().call());
    isItself("unknown");
    Duration on = device().sensor().on();
    newSensor("new-sensor-1");
    assertTrue(device().sensor().on().compareTo(on) >= 0, "said twice it is one");
    assertEquals(
        1, shop.warnings().sensors().bumpTests(WarnedShop.ROOM).size(), "tests stay in the log");

    shop.warnings()
        .sensors()
        .beginCleanAir(
            WarnedShop.ROOM, Optional.empty(), new CleanAirRun.Promised(true, true, true));
    shop.device().fan(true);
    shop.minutes(36);
    assertTrue(
        shop.warnings()
            .sensors()
            .takeCleanAir(WarnedShop.ROOM, Optional.empty(), "Kim", "clean-air-1", false)
            .isPresent());
    shop.minutes(16);
    assertEquals(AirCall.OK, shop.air().call());
    isItself("ok");
  }

  @Test
  void ageAndHoursAreCountedAndKept() {
    shop.minutes(120);
    Duration on = device().sensor().on();
    assertTrue(on.compareTo(Duration.ofHours(2)) >= 0, on.toString());
    assertTrue(on.compareTo(Duration.ofHours(4)) < 0, on.toString());
    shop.restartDashboard();
    Duration after = device().sensor().on();
    assertTrue(after.compareTo(on) >= 0, after + " after " + on);
    assertTrue(device().sensor().proof().since().isBefore(WarnedShop.START), "from the outbox");
  }
}
