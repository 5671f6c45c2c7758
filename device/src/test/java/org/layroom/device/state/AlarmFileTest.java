package org.layroom.device.state;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.alarm.AlarmMemory;
import org.layroom.device.alarm.AlarmStore.Recorded;
import org.layroom.device.pace.SteppedPace;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.WatchMemory;

/** The alarm's state on disk: read back whole, with an age that can be relied on. */
class AlarmFileTest {
  private static final Instant NOW = Instant.parse("2026-03-14T19:00:00Z");
  private static final AlarmMemory BAD_AIR =
      new AlarmMemory(
          new WatchMemory(
              AirCall.LEAVE,
              Optional.of(
                  new AirWarning(
                      7,
                      AirCall.LEAVE,
                      NOW.minusSeconds(90),
                      List.of("The last minute: 12.0 times clean air."),
                      "Leave now.",
                      "Ends some time.",
                      Optional.of(new AirWarning.Seen("Kim", NOW.minusSeconds(30))),
                      AirWarning.Sound.SILENT)),
              9,
              12.5,
              Optional.empty(),
              Optional.of(NOW.minusSeconds(600))),
          "1a2b3c4d-7",
          true,
          true);

  @TempDir private Path folder;
  private final SteppedPace pace = new SteppedPace(NOW);
  private Optional<MachineUptime> machine =
      Optional.of(new MachineUptime("first", Duration.ofHours(5)));

  private AlarmFile file() {
    return new AlarmFile(folder, pace, () -> machine);
  }

  private void kept() {
    try (AlarmFile file = file()) {
      file.keep(BAD_AIR, NOW, true);
    }
  }

  @Test
  void whatIsKeptIsReadBackWhole() {
    assertTrue(file().recall().isEmpty());
    kept();
    Recorded recorded = file().recall().orElseThrow();
    assertEquals(BAD_AIR, recorded.memory());
    assertEquals(NOW, recorded.at());
    assertTrue(recorded.atBelieved());
    assertEquals(Optional.of(BAD_AIR), AlarmFile.left(folder));
  }

  @Test
  void theNewestIsKeptAndWritingWaitsForItsThread() {
    AlarmFile file = file();
    AlarmMemory later = new AlarmMemory(BAD_AIR.watch(), BAD_AIR.warningId(), false, false);
    file.keep(BAD_AIR, NOW, true);
    file.keep(later, NOW, true);
    assertTrue(AlarmFile.left(folder).isEmpty(), "the lamps' thread has written nothing");
    pace.advanceBy(Duration.ofMillis(1));
    assertEquals(Optional.of(later), AlarmFile.left(folder));
  }

  @Test
  void onOneStartOfTheComputerTheAgeNeedsNoWallClock() {
    kept();
    pace.setWallClock(Instant.parse("2020-01-01T00:00:00Z"));
    machine = Optional.of(new MachineUptime("first", Duration.ofHours(14)));
    assertEquals(Optional.of(Duration.ofHours(9)), file().recall().orElseThrow().age());
  }

  @Test
  void afterAPowerCutTheWallClockTellsTheAgeWhereItIsSet() {
    kept();
    machine = Optional.of(new MachineUptime("second", Duration.ofSeconds(20)));
    pace.advanceBy(Duration.ofMinutes(3));
    assertEquals(Optional.of(Duration.ofMinutes(3)), file().recall().orElseThrow().age());
    pace.setWallClockSet(false);
    assertEquals(Optional.empty(), file().recall().orElseThrow().age());
  }

  @Test
  void whatCannotBeReadIsToldAndCountsAsNothing() throws IOException {
    for (String broken : List.of("", "{", "[]", "{\"at\":\"yesterday\"}", "{\"air\":\"FINE\"}")) {
      Files.writeString(folder.resolve("alarm.json"), broken);
      assertTrue(file().recall().isEmpty(), broken);
    }
  }
}
