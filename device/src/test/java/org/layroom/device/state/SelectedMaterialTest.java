package org.layroom.device.state;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.alarm.LocalAlarm;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.RoomVerdict;
import org.layroom.predictor.material.TemperatureRange;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.WatchSettings;
import org.layroom.predictor.verdict.State;

/** The chosen can outlives a restart of the device; the verdict does not. */
class SelectedMaterialTest {
  private static final Instant START = Instant.parse("2026-03-14T19:00:00Z");

  @TempDir Path folder;

  private final SteppedPace pace = new SteppedPace(START);
  private final LocalAlarm alarm =
      LocalAlarm.unwired(pace, WatchSettings.workRoom(VaporSensor.Chip.fresh()), state -> {});

  private SelectedMaterial can() {
    return new SelectedMaterial(folder, alarm);
  }

  private Path file() {
    return folder.resolve("can.json");
  }

  private static RoomVerdict verdict(double coldest) {
    return new RoomVerdict(Optional.of(State.MIX), Optional.of(new TemperatureRange(coldest, 30)));
  }

  @AfterEach
  void close() {
    alarm.close();
    pace.close();
  }

  @Test
  void theCanIsKeptAndNeverTheVerdict() throws IOException, MalformedMessage {
    can().take(verdict(16));
    RoomVerdict kept = RoomVerdict.read(Files.readAllBytes(file()));
    assertEquals(verdict(16).withoutVerdict(), kept);
    can().recall();
  }

  /** A verdict comes every minute, and memory cards wear. */
  @Test
  void theSameCanIsNotWrittenAgainAndAgain() throws IOException {
    can().take(verdict(16));
    FileTime before = FileTime.from(START);
    Files.setLastModifiedTime(file(), before);
    SelectedMaterial after = can();
    after.recall();
    after.take(verdict(16));
    assertEquals(before, Files.getLastModifiedTime(file()));
    after.take(verdict(18));
    assertTrue(Files.getLastModifiedTime(file()).compareTo(before) > 0);
  }

  @Test
  void aDamagedFileIsToldOfAndStopsNothing() throws IOException {
    Files.writeString(file(), "{");
    SelectedMaterial damaged = can();
    damaged.recall();
    damaged.take(verdict(16));
    assertFalse(Files.readString(file()).equals("{"));
  }
}
