package org.layroom.dashboard.access;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Duration;
import java.time.Instant;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.testing.HandPace;
import org.layroom.device.files.FolderTree;

/** Codes and sessions: who is let in, for how long, and what a guesser gets. */
class AccessControlTest {
  private static final Instant NOON = Instant.parse("2026-03-01T12:00:00Z");
  private static final String WRONG = "zzzz-zzzz";

  @TempDir Path folder = Path.of("");

  private final HandPace pace = new HandPace(NOON);

  private AccessControl door() {
    return AccessControl.of(folder, pace);
  }

  private static PairingAttempt.LetIn paired(AccessControl door, Role role, String name) {
    return assertInstanceOf(PairingAttempt.LetIn.class, door.pair(door.open(role).text(), name));
  }

  private String file() throws IOException {
    return Files.readString(folder.resolve("access").resolve("sessions"));
  }

  @Test
  void aCodeOpensOnceForTheRoleItWasMadeFor() {
    AccessControl door = door();
    String code = door.open(Role.READ_ONLY).text();
    PairingAttempt.LetIn in =
        assertInstanceOf(PairingAttempt.LetIn.class, door.pair(code, " old tablet "));
    assertEquals(Role.READ_ONLY, in.session().role());
    assertEquals("old tablet", in.session().name());
    assertInstanceOf(PairingAttempt.Wrong.class, door.pair(code, "another"));
    assertEquals(in.session().id(), door.enter(in.token()).orElseThrow().id());
  }

  @Test
  void aCodeMayBeTypedInCapitalsAndWithoutItsDash() {
    AccessControl door = door();
    String code = door.open(Role.FULL).text();
    assertTrue(code.matches("[a-z2-9]{4}-[a-z2-9]{4}"), code);
    String typed = " " + code.replace("-", " ").toUpperCase(Locale.ROOT) + " ";
    assertInstanceOf(PairingAttempt.LetIn.class, door.pair(typed, "phone"));
  }

  @Test
  void aCodeIsOverAfterTenMinutesWhateverTheWallClockSays() {
    AccessControl door = door();
    String code = door.open(Role.FULL).text();
    pace.setWallClock(NOON.minus(Duration.ofDays(1)));
    pace.pass(Duration.ofMinutes(10));
    assertInstanceOf(PairingAttempt.Wrong.class, door.pair(code, "phone"));
    assertTrue(door.standing().isEmpty());
  }

  @Test
  void aNewCodeTakesThePlaceOfTheOneBefore() {
    AccessControl door = door();
    String before = door.open(Role.FULL).text();
    String after = door.open(Role.READ_ONLY).text();
    assertNotEquals(before, after);
    assertInstanceOf(PairingAttempt.Wrong.class, door.pair(before, "phone"));
    assertInstanceOf(PairingAttempt.LetIn.class, door.pair(after, "phone"));
  }

  @Test
  void aCodeThatWasTakenBackDoesNotOpen() {
    AccessControl door = door();
    String code = door.open(Role.FULL).text();
    door.withdraw();
    assertInstanceOf(PairingAttempt.Wrong.class, door.pair(code, "phone"));
  }

  @Test
  void fiveWrongGuessesAreTheEndOfACode() {
    AccessControl door = door();
    String code = door.open(Role.FULL).text();
    for (int guess = 0; guess < PairingCodes.MOST_WRONG; guess++) {
      assertInstanceOf(PairingAttempt.Wrong.class, door.pair(WRONG, "guesser"));
    }
    assertInstanceOf(PairingAttempt.Wrong.class, door.pair(code, "phone"));
    assertTrue(door.paired().isEmpty());
  }

  @Test
  void tenGuessesAMinuteAreTriedWhoeverMakesThemAndEvenTheRightOneMustWait() {
    AccessControl door = door();
    for (int guess = 0; guess < PairingCodes.MOST_IN_A_MINUTE; guess++) {
      assertInstanceOf(PairingAttempt.Wrong.class, door.pair(WRONG, "guesser " + guess));
    }
    String code = door.open(Role.FULL).text();
    PairingAttempt.TooMany many =
        assertInstanceOf(PairingAttempt.TooMany.class, door.pair(code, "phone"));
    assertEquals(Duration.ofMinutes(1), many.pause());
    pace.pass(Duration.ofSeconds(59));
    assertInstanceOf(PairingAttempt.TooMany.class, door.pair(code, "phone"));
    pace.pass(Duration.ofSeconds(1));
    assertInstanceOf(PairingAttempt.LetIn.class, door.pair(code, "phone"));
  }

  @Test
  void aNameThatCannotBeShownIsRefusedAndTheCodeStillOpens() {
    AccessControl door = door();
    String code = door.open(Role.FULL).text();
    for (String name : List.of("", "   ", "x".repeat(41), "two\nlines", "bell\u0007", "a\u202eb")) {
      assertThrows(IllegalArgumentException.class, () -> door.pair(code, name), name);
    }
    assertInstanceOf(PairingAttempt.LetIn.class, door.pair(code, "Käthe's phone, 2nd"));
  }

  @Test
  void sessionsOutlastARestartAndTheirTokensAreNowhere() throws Exception {
    PairingAttempt.LetIn in = paired(door(), Role.FULL, "old tablet");
    assertFalse(file().contains(in.token()), "only its hash is kept");
    assertFalse(in.toString().contains(in.token()));
    assertTrue(in.token().matches("[A-Za-z0-9_-]{43}"), "256 bits");
    Path kept = folder.resolve("access").resolve("sessions");
    assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(kept)));
    AccessControl again = door();
    assertEquals("old tablet", again.enter(in.token()).orElseThrow().name());
    assertTrue(again.enter(in.token().substring(1)).isEmpty());
    assertTrue(again.enter("").isEmpty());
  }

  @Test
  void aCodeIsWrittenNowhere() throws Exception {
    AccessControl door = door();
    AccessControl.Code code = door.open(Role.FULL);
    assertFalse(code.toString().contains(code.text()));
    assertFalse(Files.exists(folder.resolve("access").resolve("sessions")));
    assertInstanceOf(PairingAttempt.LetIn.class, door.pair(code.text(), "phone"));
    assertFalse(file().contains(code.text()) || file().contains(code.text().replace("-", "")));
  }

  @Test
  void aSessionThatIsNotUsedEndsAfterThirtyDaysAndAnyAfterHalfAYear() {
    AccessControl door = door();
    PairingAttempt.LetIn idle = paired(door, Role.FULL, "idle");
    PairingAttempt.LetIn used = paired(door, Role.FULL, "used");
    for (int day = 0; day < 179; day++) {
      pace.pass(Duration.ofDays(1));
      assertTrue(door.enter(used.token()).isPresent(), "day " + day);
    }
    assertTrue(door.enter(idle.token()).isEmpty());
    pace.pass(Duration.ofDays(1));
    assertTrue(door.enter(used.token()).isEmpty());
    assertFalse(door.still(used.session()));
    assertTrue(door.paired().isEmpty());
  }

  @Test
  void beingSeenIsKeptOverARestart() {
    AccessControl door = door();
    PairingAttempt.LetIn in = paired(door, Role.FULL, "phone");
    pace.pass(Duration.ofDays(20));
    assertTrue(door.enter(in.token()).isPresent());
    pace.pass(Duration.ofDays(20));
    assertTrue(door().enter(in.token()).isPresent());
  }

  @Test
  void whoIsRevokedDoesNotComeInAnyMoreNotAfterARestartEither() {
    AccessControl door = door();
    PairingAttempt.LetIn one = paired(door, Role.FULL, "one");
    PairingAttempt.LetIn other = paired(door, Role.FULL, "other");
    Set<String> told = new HashSet<>();
    door.onGone(() -> told.add("gone"));
    assertEquals("one", door.revoke(one.session().id()).orElseThrow().name());
    assertEquals(Set.of("gone"), told);
    assertFalse(door.still(one.session()));
    assertTrue(door.enter(one.token()).isEmpty());
    assertTrue(door.revoke(one.session().id()).isEmpty());
    AccessControl again = door();
    assertTrue(again.enter(one.token()).isEmpty());
    assertTrue(again.enter(other.token()).isPresent());
  }

  @Test
  void aDamagedFileLetsNobodyIn() throws Exception {
    PairingAttempt.LetIn in = paired(door(), Role.FULL, "phone");
    Path kept = folder.resolve("access").resolve("sessions");
    Files.writeString(kept, file().replace("\"full\"", "\"owner\""));
    assertTrue(door().enter(in.token()).isEmpty());
    Files.writeString(kept, "{\"sessions\":[");
    assertTrue(door().enter(in.token()).isEmpty());
  }

  @Test
  void whoCannotBeWrittenDownIsNotLetIn() throws Exception {
    AccessControl door = door();
    String code = door.open(Role.FULL).text();
    Path access = folder.resolve("access");
    FolderTree.delete(access);
    Files.writeString(access, "in the way");
    assertThrows(UncheckedIOException.class, () -> door.pair(code, "phone"));
    assertTrue(door.paired().isEmpty());
  }

  @Test
  void thereAreNeverMoreThanFortyPaired() {
    AccessControl door = door();
    for (int i = 0; i < AccessSessions.MOST; i++) {
      paired(door, Role.READ_ONLY, "device " + i);
      pace.pass(Duration.ofMinutes(1));
    }
    assertInstanceOf(PairingAttempt.Full.class, door.pair(door.open(Role.FULL).text(), "one more"));
  }

  @Test
  void codesDiffer() {
    AccessControl door = door();
    Set<String> codes = new HashSet<>();
    Set<Character> letters = new HashSet<>();
    for (int i = 0; i < 1000; i++) {
      String code = door.open(Role.FULL).text();
      codes.add(code);
      code.chars().forEach(letter -> letters.add((char) letter));
    }
    // Two of a thousand random ones are the same once in 1.7 million runs, and a letter is missing
    // once in 10^110: 31 letters and the dash.
    assertEquals(1000, codes.size());
    assertEquals(32, letters.size());
  }

  private String tokens() throws IOException {
    return Files.readString(folder.resolve("access").resolve("tokens"));
  }

  private static PairingAttempt.LetIn made(AccessControl door, String name, Role role) {
    return assertInstanceOf(PairingAttempt.LetIn.class, door.token(name, role));
  }

  @Test
  void aTokenOpensForYearsAndOverRestartsAndOnlyItsHashIsKept() throws IOException {
    PairingAttempt.LetIn in = made(door(), " spreadsheet ", Role.READ_ONLY);
    assertFalse(tokens().contains(in.token()));
    pace.pass(Duration.ofDays(3000));
    AccessSession found = door().enterProgram(in.token()).orElseThrow();
    assertEquals("spreadsheet", found.name());
    assertEquals(Role.READ_ONLY, found.role());
    assertTrue(door().enterProgram(in.token() + "x").isEmpty());
    assertEquals(
        "rw-------",
        PosixFilePermissions.toString(
            Files.getPosixFilePermissions(folder.resolve("access").resolve("tokens"))));
  }

  @Test
  void aTokenIsNoPairedDeviceAndAPairedDeviceIsNoToken() {
    AccessControl door = door();
    PairingAttempt.LetIn program = made(door, "hub", Role.FULL);
    PairingAttempt.LetIn tablet = paired(door, Role.FULL, "tablet");
    assertTrue(door.enter(program.token()).isEmpty());
    assertTrue(door.enterProgram(tablet.token()).isEmpty());
    assertEquals(List.of("hub"), door.tokens().stream().map(AccessSession::name).toList());
    assertEquals(List.of("tablet"), door.paired().stream().map(AccessSession::name).toList());
  }

  @Test
  void aRevokedTokenOpensNothingAndWhoListensWithItIsTold() {
    AccessControl door = door();
    PairingAttempt.LetIn in = made(door, "hub", Role.FULL);
    Set<String> told = new HashSet<>();
    door.onGone(() -> told.add("gone"));
    assertTrue(door.still(in.session()));
    assertEquals("hub", door.revokeToken("hub").orElseThrow().name());
    assertTrue(door.enterProgram(in.token()).isEmpty());
    assertFalse(door.still(in.session()));
    assertEquals(Set.of("gone"), told);
    assertTrue(door.revokeToken("hub").isEmpty(), "once is enough");
  }

  @Test
  void twoTokensOfOneNameAndANameThatNobodyCanReadAreRefused() {
    AccessControl door = door();
    made(door, "hub", Role.FULL);
    assertThrows(IllegalArgumentException.class, () -> door.token("hub", Role.READ_ONLY));
    assertThrows(IllegalArgumentException.class, () -> door.token(" ", Role.READ_ONLY));
    assertThrows(IllegalArgumentException.class, () -> door.token("a\nb", Role.READ_ONLY));
  }
}
