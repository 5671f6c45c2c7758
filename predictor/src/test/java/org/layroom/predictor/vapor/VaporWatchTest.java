package org.layroom.predictor.vapor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.exposure.AirAverage;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.vapor.AirWarning.Sound;

/** The thresholds for a chip are this project's own choice; for ppm they are the chosen limit's. */
class VaporWatchTest {
  private static final int MINUTE = 60;
  private static final int HOUR = 3600;

  private static WatchedChip calm() {
    WatchedChip chip = WatchedChip.inWorkRoom().level(20 * MINUTE, 1);
    assertEquals(AirCall.OK, chip.call());
    return chip;
  }

  @Test
  void aWatchThatHasSeenNothingIsUnknown() {
    assertEquals(AirCall.UNKNOWN, WatchedChip.inWorkRoom().call());
    assertEquals(AirCall.UNKNOWN, WatchedChip.inWorkRoom().level(11 * MINUTE, 1).call());
    assertEquals(AirCall.OK, WatchedChip.inWorkRoom().level(13 * MINUTE, 1).call());
  }

  @Test
  void threeTimesCleanAirOverAMinuteAsksToAirAtOnce() {
    WatchedChip chip = calm().level(40, 3.2);
    assertEquals(AirCall.OK, chip.call());
    chip.level(50, 3.2);
    assertEquals(AirCall.VENTILATE, chip.call());
    assertEquals(1, chip.raised().stream().filter(one -> one.call() != AirCall.UNKNOWN).count());
    assertEquals(Sound.REPEATED, chip.warning().sound());
  }

  @Test
  void airingStaysUntilTenMinutesWellBelow() {
    WatchedChip chip = calm().level(20 * MINUTE, 3.1).level(11 * MINUTE, 1);
    assertEquals(AirCall.VENTILATE, chip.call());
    chip.level(8 * MINUTE, 1);
    assertEquals(AirCall.VENTILATE, chip.call());
    chip.level(8 * MINUTE, 1);
    assertEquals(AirCall.OK, chip.call());
  }

  @Test
  void aLevelBetweenTwoAndThreeThatStaysAsksToAir() {
    assertEquals(AirCall.VENTILATE, calm().level(26 * MINUTE, 2.4).call());
  }

  @Test
  void ventilateComesFirstAndLeaveAMinuteLater() {
    WatchedChip chip = calm().level(50, 20);
    assertEquals(AirCall.VENTILATE, chip.call());
    chip.level(40, 20);
    assertEquals(AirCall.LEAVE, chip.call());
    assertEquals(Sound.URGENT, chip.warning().sound());
  }

  // Two grams of acetone in a room of 40 m3 are 21 ppm (0.73 g a liter of vapor at 20 degC and
  // 58.08
  // g/mol: 1000 * 2 / 40 / 2.42 mg/m3 a ppm); a puff at the sensor is more.
  @Test
  void aPuffOfSolventThatIsGoneWithinAMinuteEndsWithoutLeave() {
    WatchedChip chip = calm().level(60, 20).level(20 * MINUTE, 1);
    assertEquals(0, raised(chip, AirCall.LEAVE));
    assertEquals(1, raised(chip, AirCall.VENTILATE));
  }

  /** A wipe that the room clears in some minutes is no leave to a chip that was seen in jobs. */
  @Test
  void outsideAJobATaughtChipLeavesByTheMinuteOrLowerByTheQuarterOfAnHour() {
    WatchedChip wipe = calm();
    wipe.event(new AirEvent.LevelsLearned(wipe.now(), new LeaveLevels(20, 9)));
    wipe.level(5 * MINUTE, 8).level(10 * MINUTE, 3);
    assertEquals(0, raised(wipe, AirCall.LEAVE));
    assertEquals(AirCall.VENTILATE, wipe.call());
    WatchedChip stays = calm();
    stays.event(new AirEvent.LevelsLearned(stays.now(), new LeaveLevels(20, 9)));
    assertEquals(AirCall.VENTILATE, stays.level(10 * MINUTE, 8).call());
    assertEquals(AirCall.LEAVE, stays.level(7 * MINUTE, 8).call());
    WatchedChip burst = calm();
    burst.event(new AirEvent.LevelsLearned(burst.now(), new LeaveLevels(20, 9)));
    assertEquals(AirCall.LEAVE, burst.level(3 * MINUTE, 9.3).call());
  }

  private static long raised(WatchedChip chip, AirCall call) {
    return chip.raised().stream().filter(one -> one.call() == call).count();
  }

  @Test
  void wipingSilencesOnlyTheSoundOfVentilateForAQuarterOfAnHour() {
    WatchedChip chip = calm();
    chip.event(new AirEvent.Wiping(chip.now())).level(5 * MINUTE, 3.1);
    assertEquals(AirCall.VENTILATE, chip.call(), "lamp and fan stay");
    assertEquals(Sound.SILENT, chip.warning().sound());
    assertEquals(Sound.REPEATED, chip.level(11 * MINUTE, 3.1).warning().sound());
    WatchedChip worse = calm();
    worse.event(new AirEvent.Wiping(worse.now())).level(3 * MINUTE, 20);
    assertEquals(AirCall.LEAVE, worse.call());
    assertEquals(Sound.URGENT, worse.warning().sound());
  }

  @Test
  void wipingIsNotHeardTwiceInAnHourNorWhileUnknownOrLeave() {
    WatchedChip chip = calm();
    chip.event(new AirEvent.Wiping(chip.now())).level(16 * MINUTE, 1);
    assertTrue(chip.watch().wipingRefused().orElseThrow().contains("once an hour"));
    chip.event(new AirEvent.Wiping(chip.now())).level(5 * MINUTE, 3.1);
    assertEquals(Sound.REPEATED, chip.warning().sound());
    chip.level(40 * MINUTE, 1);
    assertEquals(Optional.empty(), chip.watch().wipingRefused());
    assertTrue(calm().level(3 * MINUTE, 20).watch().wipingRefused().isPresent());
    WatchedChip unknown = calm().silence(60);
    assertTrue(unknown.watch().wipingRefused().orElseThrow().contains("unknown"));
    unknown.event(new AirEvent.Wiping(unknown.now())).level(20 * MINUTE, 3.1);
    assertEquals(Sound.REPEATED, unknown.warning().sound());
  }

  @Test
  void leaveStaysUntilSomebodyHasSeenItAndTheAirIsBetter() {
    WatchedChip unseen = calm().level(5 * MINUTE, 20).level(HOUR, 1);
    assertEquals(AirCall.LEAVE, unseen.call());
    assertEquals(AirCall.OK, unseen.acknowledge().call());
    WatchedChip chip = calm().level(5 * MINUTE, 20).acknowledge();
    assertEquals(AirCall.LEAVE, chip.call());
    assertEquals("Kim", chip.warning().acknowledged().orElseThrow().who());
    assertEquals(chip.now(), chip.warning().acknowledged().orElseThrow().when());
    assertEquals(AirCall.LEAVE, chip.level(10 * MINUTE, 1).call());
    assertEquals(AirCall.OK, chip.level(40 * MINUTE, 1).call());
  }

  @Test
  void acknowledgingInsideTheVaporKeepsTheLampAndWorseAirSoundsAgain() {
    WatchedChip chip = calm().level(5 * MINUTE, 20).acknowledge().level(5 * MINUTE, 20);
    assertEquals(AirCall.LEAVE, chip.call());
    assertEquals(Sound.SILENT, chip.warning().sound());
    long before = chip.warning().id();
    chip.level(2 * MINUTE, 40);
    assertEquals(before, chip.warning().id(), "nothing is known of the chip yet");
    chip.level(2 * MINUTE, 90);
    assertEquals(Sound.URGENT, chip.warning().sound());
    assertEquals(before + 1, chip.warning().id());
  }

  @Test
  void anAcknowledgmentOfAnotherWarningChangesNothing() {
    WatchedChip chip = calm().level(5 * MINUTE, 20);
    chip.event(new AirEvent.Acknowledged(chip.now(), 77, "Kim"));
    assertTrue(chip.warning().acknowledged().isEmpty());
  }

  @Test
  void aWarningIsRaisedOnce() {
    WatchedChip chip = calm().level(2 * HOUR, 3.1);
    assertEquals(1, chip.raised().stream().filter(one -> one.call() == AirCall.VENTILATE).count());
  }

  @Test
  void theEndOfTheRangeTowardVaporIsLeaveAndNeverAFault() {
    WatchedChip chip = calm().read(0);
    assertEquals(AirCall.OK, chip.call(), "one read may be wrong");
    chip.read(0);
    assertEquals(AirCall.LEAVE, chip.call());
    assertTrue(chip.words().contains("at least"), chip.words());
  }

  @Test
  void aLeapTowardVaporIsLeaveAtTheNextReadAndTheSameLeapTowardCleanIsAFault() {
    WatchedChip vapor = calm().read(24_000);
    assertEquals(AirCall.OK, vapor.call(), "one read may be wrong");
    assertEquals(AirCall.LEAVE, vapor.read(23_000).call(), "10 s later");
    WatchedChip clean = calm().read(36_000).read(36_010);
    assertEquals(AirCall.UNKNOWN, clean.call());
    assertTrue(clean.words().contains("dropped faster than air in a room can"), clean.words());
  }

  // One corrupted word in 256 passes an 8-bit checksum (CRC-8 of the Sensirion data sheets).
  @Test
  void oneWrongReadIsNoWarningAndDarkensNothing() {
    for (double wrong : new double[] {0, 5000, 24_000, 36_000, 60_000, 65_535}) {
      WatchedChip chip = calm();
      int before = chip.raised().size();
      chip.read(wrong).level(20 * MINUTE, 1);
      assertEquals(before, chip.raised().size(), wrong + " ticks: " + chip.raised());
      assertEquals(AirCall.OK, chip.call());
    }
  }

  @Test
  void aWrongReadDuringALeapDelaysLeaveByOneReadAndNoMore() {
    assertEquals(AirCall.LEAVE, calm().read(24_000).read(36_000).read(24_000).read(23_990).call());
    WatchedChip missed = calm().read(24_000);
    missed.event(new AirEvent.Failed(missed.now(), "check sum wrong")).silence(10);
    assertEquals(AirCall.LEAVE, missed.read(24_000).call());
  }

  @Test
  void aWrongFirstReadIsNoLeaveEither() {
    for (double wrong : new double[] {0, 24_000, 36_000, 60_000, 65_535}) {
      WatchedChip chip = WatchedChip.inWorkRoom().read(wrong).level(20 * MINUTE, 1);
      assertEquals(0, raised(chip, AirCall.LEAVE), wrong + " ticks");
      assertEquals(AirCall.OK, chip.call(), wrong + " ticks");
    }
  }

  @Test
  void aLeapThatStandsForTwoReadsIsOneLeave() {
    WatchedChip chip = calm().read(24_000).read(24_000).level(2 * MINUTE, 1).acknowledge();
    assertEquals(AirCall.OK, chip.level(40 * MINUTE, 1).call());
    assertEquals(1, raised(chip, AirCall.LEAVE));
  }

  @Test
  void readsThatLeapToAndFroAreUnknownAndNoLeave() {
    WatchedChip chip = calm();
    for (int i = 0; i < 10; i++) {
      chip.read(24_000).read(36_000);
    }
    assertEquals(AirCall.UNKNOWN, chip.call());
    assertEquals(0, raised(chip, AirCall.LEAVE));
    assertEquals(AirCall.OK, chip.level(15 * MINUTE, 1).call());
  }

  // 29 CFR 1910.1000's peak is a matter of minutes, never of one reading.
  @Test
  void oneWrongReadOfADetectorIsNoLeaveAndASecondLikeItIs() {
    ExposureLimit limit = ExposureLimit.own(20, 40);
    WatchedChip wrong = WatchedChip.detector(limit).ppm(20 * MINUTE, 1);
    wrong.ppm(10, 1500).ppm(20 * MINUTE, 1);
    assertEquals(0, raised(wrong, AirCall.LEAVE));
    assertEquals(
        AirCall.LEAVE, WatchedChip.detector(limit).ppm(20 * MINUTE, 1).ppm(20, 1500).call());
    WatchedChip end = WatchedChip.detector(limit).ppm(20 * MINUTE, 1).detectorAtEnd();
    assertEquals(0, raised(end, AirCall.LEAVE));
    assertEquals(AirCall.LEAVE, end.detectorAtEnd().call());
  }

  @Test
  void leaveOutranksUnknown() {
    WatchedChip chip = calm().level(5 * MINUTE, 20).silence(10 * MINUTE);
    assertEquals(AirCall.LEAVE, chip.call());
  }

  @Test
  void silenceFaultsAndDoubtfulAirAreUnknown() {
    assertEquals(AirCall.UNKNOWN, calm().silence(50).call());
    WatchedChip clean = calm().read(65_535).read(65_535);
    assertEquals(AirCall.UNKNOWN, clean.call());
    WatchedChip dry = calm();
    dry.event(new AirEvent.Ticks(dry.now(), 30_000, Optional.of(new AirEvent.Climate(20, 10))));
    assertEquals(AirCall.UNKNOWN, dry.call());
    WatchedChip blind = calm();
    blind.event(new AirEvent.Ticks(blind.now(), 30_000, Optional.empty()));
    assertEquals(AirCall.UNKNOWN, blind.call());
    assertTrue(blind.words().contains("missing"), blind.words());
  }

  @Test
  void oneMissedReadingIsNoFaultButHalfAMinuteOfThemIs() {
    WatchedChip chip = calm();
    chip.event(new AirEvent.Failed(chip.now(), "check sum wrong"));
    assertEquals(AirCall.OK, chip.call());
    for (int i = 0; i < 5; i++) {
      chip.silence(10);
      chip.event(new AirEvent.Failed(chip.now(), "check sum wrong"));
    }
    assertEquals(AirCall.UNKNOWN, chip.call());
    assertTrue(chip.words().contains("check sum wrong"), chip.words());
  }

  @Test
  void aStuckSignalIsAFaultUnlessItIsStuckInVapor() {
    WatchedChip low = calm();
    WatchedChip high = calm();
    for (int i = 0; i < 15; i++) {
      low.ticks(29_990).silence(10);
      high.ticks(26_000).silence(10);
    }
    assertEquals(AirCall.UNKNOWN, low.call());
    assertTrue(low.words().contains("stuck"), low.words());
    assertEquals(AirCall.LEAVE, high.call());
  }

  @Test
  void theFirstMinuteAfterSwitchingOnIsNotUsed() {
    WatchedChip chip = WatchedChip.inWorkRoom();
    chip.event(new AirEvent.PoweredOn(chip.now())).level(50, 30);
    assertEquals(AirCall.UNKNOWN, chip.call());
    assertTrue(chip.words().contains("warming up"), chip.words());
  }

  @Test
  void withoutACleanAirReadingTheAirIsUnknownAndItsEndStillLeave() {
    WatchedChip chip = new WatchedChip(WatchSettings.workRoom(VaporSensor.Chip.fresh()));
    chip.level(HOUR, 1);
    assertEquals(AirCall.UNKNOWN, chip.call());
    assertTrue(chip.watch().cleanAirAsked().orElseThrow().contains("No clean-air reading"));
    chip.read(0).read(0);
    assertEquals(AirCall.LEAVE, chip.call());
  }

  @Test
  void aCleanAirReadingIsAskedForAfterAWeekAndUselessAfterAMonthButNotInAJob() {
    WatchedChip week = aged(7);
    assertEquals(AirCall.OK, week.level(20 * MINUTE, 1).call());
    assertTrue(week.watch().cleanAirAsked().orElseThrow().contains("7 days"));
    assertEquals(AirCall.UNKNOWN, aged(30).level(20 * MINUTE, 1).call());
    WatchedChip job = new WatchedChip(withAge(Duration.ofDays(30).minusMinutes(30)));
    job.level(20 * MINUTE, 1).job(4, true).level(HOUR, 1);
    assertEquals(AirCall.OK, job.call());
    job.event(new AirEvent.JobEnded(job.now()));
    assertEquals(AirCall.UNKNOWN, job.call());
  }

  private static WatchedChip aged(int days) {
    return new WatchedChip(withAge(Duration.ofDays(days)));
  }

  private static WatchSettings withAge(Duration age) {
    return WatchSettings.workRoom(
        VaporSensor.Chip.with(CleanAirReading.of(WatchedChip.CLEAN, WatchedChip.START.minus(age))));
  }

  @Test
  void airCleanerThanCleanAsksForANewReadingAndLearnsNothing() {
    WatchedChip chip = calm().level(20 * MINUTE, 0.7);
    assertTrue(chip.watch().cleanAirAsked().orElseThrow().contains("cleaner"));
    VaporSensor.Chip sensor = (VaporSensor.Chip) chip.watch().settings().sensor();
    assertEquals(WatchedChip.CLEAN, sensor.cleanAir().orElseThrow().ticks(), 0);
  }

  @Test
  void inAJobTheChipIsQuieterButTheLampStays() {
    WatchedChip chip = calm();
    chip.event(new AirEvent.LevelsLearned(chip.now(), new LeaveLevels(61, 8)));
    chip.job(4, true).level(2 * HOUR, at -> 1 + 49 * (1 - StrictMath.exp(-at / 600.0)));
    assertEquals(AirCall.VENTILATE, chip.call());
    assertEquals(Sound.ONCE, chip.warning().sound());
    assertEquals(0, raised(chip, AirCall.LEAVE));
    assertEquals(AirCall.LEAVE, chip.level(3 * MINUTE, 70).call());
  }

  @Test
  void withoutFanOrRespiratorAJobHasTheFullWarnings() {
    assertEquals(AirCall.LEAVE, calm().job(4, false).level(90, 20).call());
  }

  @Test
  void theHouseSideAlwaysHasTheFullWarnings() {
    WatchedChip chip = WatchedChip.onHouseSide().level(20 * MINUTE, 1);
    chip.event(new AirEvent.LevelsLearned(chip.now(), new LeaveLevels(61, 8)));
    chip.job(4, true).level(120, 20);
    assertEquals(AirCall.LEAVE, chip.call());
  }

  @Test
  void afterTheJobsEndTheFullWarningsHoldAgain() {
    WatchedChip chip = calm();
    chip.event(new AirEvent.LevelsLearned(chip.now(), new LeaveLevels(61, 8)));
    chip.job(1, true).level(HOUR - 60, 20);
    assertEquals(AirCall.VENTILATE, chip.call());
    assertEquals(AirCall.LEAVE, chip.level(3 * MINUTE, 20).call());
  }

  // The first job of a chip that nothing is known of, 2 kg of resin in 40 m3 at 0.3 changes/h: 633
  // ppm
  // (one-box model by hand). Levels of metal oxides with exponents of 0.5 to 1 (from memory).
  @Test
  void leaveCanBeReachedInAFirstJobWithFanAndRespirator() {
    for (double level : new double[] {4.6, 11, 23, 121, 401, 1276}) {
      WatchedChip chip = calm().job(4, true).level(30 * MINUTE, at -> 1 + (level - 1) * at / 1800);
      assertEquals(AirCall.LEAVE, chip.level(3 * MINUTE, level).call(), level + " times clean air");
    }
  }

  @Test
  void aChipThatStopsShortWhileTheVaporRisesFastIsAtItsEndAndLeave() {
    WatchedChip chip = calm();
    chip.event(new AirEvent.LevelsLearned(chip.now(), new LeaveLevels(300, 100)));
    chip.job(4, true).level(20 * MINUTE, at -> Math.min(40, StrictMath.pow(2, at / 120.0)));
    assertEquals(AirCall.LEAVE, chip.call());
    assertTrue(chip.words().contains("at the end of its range"), chip.words());
  }

  // A room that fills toward a steady level with 6 to 20 air changes an hour slows down as it
  // fills.
  @Test
  void aRoomThatFillsTowardASteadyLevelIsNoChipAtItsEnd() {
    for (double changes : new double[] {0.3, 2, 6, 12, 20}) {
      WatchedChip chip = calm();
      chip.event(new AirEvent.LevelsLearned(chip.now(), new LeaveLevels(300, 100)));
      chip.job(4, true).level(2 * HOUR, at -> 1 + 60 * (1 - StrictMath.exp(-changes * at / 3600)));
      assertEquals(0, raised(chip, AirCall.LEAVE), changes + " changes an hour");
    }
  }

  @Test
  void unknownInAJobSoundsLikeAiringAndOutsideIsSilent() {
    assertEquals(Sound.ONCE, calm().job(4, true).silence(60).warning().sound());
    assertEquals(Sound.REPEATED, calm().job(4, false).silence(60).warning().sound());
    assertEquals(Sound.SILENT, calm().silence(60).warning().sound());
  }

  @Test
  void switchedOnInsideVaporItIsNeverOk() {
    WatchedChip chip = WatchedChip.inWorkRoom();
    chip.event(new AirEvent.PoweredOn(chip.now())).level(60, 6);
    for (int i = 0; i < 30; i++) {
      chip.level(MINUTE, 6);
      assertTrue(chip.call() != AirCall.OK, "minute " + i);
    }
    assertEquals(AirCall.LEAVE, chip.call());
  }

  @Test
  void oldReadingsRaiseNothing() {
    WatchedChip chip = calm();
    for (int back = 600; back > 0; back -= 10) {
      chip.event(
          new AirEvent.Ticks(
              chip.now().minusSeconds(back), 20_000, Optional.of(WatchedChip.CLIMATE)));
    }
    assertEquals(AirCall.OK, chip.call());
  }

  // 29 CFR 1910.1000's own arithmetic: the limit is on the mean of 15 min and on that of 8 h.
  @Test
  void aDetectorWarnsAgainstTheChosenLimit() {
    ExposureLimit limit = ExposureLimit.byId("germany").orElseThrow();
    assertEquals(AirCall.OK, WatchedChip.detector(limit).ppm(HOUR, 9).call());
    assertEquals(AirCall.VENTILATE, WatchedChip.detector(limit).ppm(HOUR, 11).call());
    WatchedChip high = WatchedChip.detector(limit).ppm(20 * MINUTE, 1).ppm(17 * MINUTE, 42);
    assertEquals(AirCall.LEAVE, high.call());
    assertTrue(
        high.words().contains("as styrene, if there is no other vapor in the air"), high.words());
    WatchedChip burst = WatchedChip.detector(limit).ppm(20 * MINUTE, 1).ppm(70, 85);
    assertEquals(AirCall.LEAVE, burst.call());
    WatchedChip lenient = WatchedChip.detector(ExposureLimit.byId("osha").orElseThrow());
    assertEquals(AirCall.OK, lenient.ppm(HOUR, 42).call());
  }

  // Half of immediately dangerous is 350 ppm (NIOSH); a detector that reads a quarter low shows
  // 262 of them, which at a limit of 100 ppm is under twice the short-term limit.
  @Test
  void aDetectorThatReadsLowAsksToLeaveDangerousAirAtALaxLimitToo() {
    ExposureLimit lax = ExposureLimit.own(100, 200);
    WatchedChip chip = WatchedChip.detector(lax).ppm(20 * MINUTE, 1).ppm(70, 268);
    assertEquals(AirCall.LEAVE, chip.call());
    assertTrue(chip.words().contains("350 ppm"), chip.words());
    WatchedChip below = WatchedChip.detector(lax).ppm(20 * MINUTE, 1).ppm(70, 255);
    assertEquals(AirCall.VENTILATE, below.call());
  }

  // NIOSH: 10 % of the lower explosive limit is 900 ppm.
  @Test
  void aTenthOfTheExplosiveLimitAsksToLeaveWhateverLimitIsChosen() {
    WatchedChip chip = WatchedChip.detector(ExposureLimit.own(500, 1000));
    assertEquals(AirCall.LEAVE, chip.ppm(20 * MINUTE, 1).ppm(70, 910).call());
    assertTrue(chip.words().contains("explosive"), chip.words());
  }

  // By hand: 2 h at 30 ppm and 6 h of clean air average 7.5 ppm over 8 h.
  @Test
  void aDetectorKeepsTheEightHourAverageWithTheHoursCovered() {
    WatchedChip chip = WatchedChip.detector(ExposureLimit.own(100));
    AirAverage two = chip.ppm(2 * HOUR, 30).watch().eightHours().orElseThrow();
    assertEquals(7.5, two.value(), 0.05);
    assertTrue(two.atLeast());
    AirAverage eight = chip.ppm(6 * HOUR, 0).watch().eightHours().orElseThrow();
    assertEquals(7.5, eight.value(), 0.1);
    assertFalse(eight.atLeast());
    assertTrue(calm().watch().eightHours().isEmpty(), "a chip has no such average");
  }

  @Test
  void aShortJobIsJudgedByWhatItsEndWillBring() {
    WatchedChip chip = WatchedChip.detector(ExposureLimit.own(20));
    chip.ppm(20 * MINUTE, 0.5).job(1, true).ppm(40 * MINUTE, 15);
    assertEquals(AirCall.OK, chip.call());
    WatchedChip day = WatchedChip.detector(ExposureLimit.own(20));
    day.ppm(20 * MINUTE, 0.5).job(8, true).ppm(40 * MINUTE, 15);
    assertEquals(AirCall.VENTILATE, day.call());
  }

  @Test
  void everyWarningSaysWhyWhatToDoAndWhatEndsIt() {
    for (WatchedChip chip :
        List.of(calm().level(20 * MINUTE, 3.1), calm().level(90, 20), calm().silence(60))) {
      AirWarning warning = chip.warning();
      assertFalse(warning.why().isEmpty());
      assertFalse(warning.whatToDo().isBlank());
      assertTrue(warning.endsWhen().startsWith("Ends when"), warning.endsWhen());
      assertFalse(warning.since().isAfter(chip.now()));
    }
  }

  @Test
  void missingTemperatureDuringVaporDoesNotHideALeave() {
    WatchedChip chip = calm();
    for (int i = 0; i < 10; i++) {
      chip.event(new AirEvent.Ticks(chip.now(), 25_500 + i, Optional.empty())).silence(10);
    }
    assertEquals(AirCall.LEAVE, chip.call());
  }

  @Test
  void levelsFromADeviceThatKeepsTheCleanAirReadingAreWatchedInTheSameWay() {
    WatchedChip chip = new WatchedChip(WatchSettings.workRoom(VaporSensor.Chip.elsewhere()));
    levels(chip, 20 * MINUTE, 1);
    assertEquals(AirCall.OK, chip.call());
    levels(chip, 90, 20);
    assertEquals(AirCall.LEAVE, chip.call());
    assertTrue(chip.watch().cleanAirAsked().isEmpty());
    WatchedChip own = calm();
    own.event(new AirEvent.Level(own.now(), 900, true));
    assertEquals(AirCall.OK, own.call(), "a chip watched by its ticks hears no levels");
  }

  private static void levels(WatchedChip chip, int seconds, double level) {
    for (int second = 0; second < seconds; second += 10) {
      chip.event(new AirEvent.Level(chip.now(), level, false)).silence(10);
    }
  }
}
