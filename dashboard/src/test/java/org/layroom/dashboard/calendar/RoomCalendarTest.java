package org.layroom.dashboard.calendar;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import biweekly.Biweekly;
import biweekly.ICalVersion;
import biweekly.ICalendar;
import biweekly.component.VEvent;
import java.io.IOException;
import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import net.fortuna.ical4j.data.CalendarBuilder;
import net.fortuna.ical4j.data.ParserException;
import net.fortuna.ical4j.model.Calendar;
import org.junit.jupiter.api.Test;
import org.layroom.dashboard.answer.job.PlannedWindow;
import org.layroom.dashboard.decision.AirSettings;
import org.layroom.dashboard.store.EventLog;
import org.layroom.dashboard.testing.HandPace;
import org.layroom.dashboard.warning.RoomAir;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.vapor.AirCall;

/**
 * Calendars as RFC 5545 wants them, judged by ical4j and biweekly; ids, sequence and cancellation
 * as its sections 3.8.4.7, 3.8.7.4 and 3.8.1.11 say.
 */
class RoomCalendarTest {
  private static final RoomName SHOP = RoomName.of("shop");
  private static final Instant EVENING = Instant.parse("2026-03-01T18:00:00Z");

  private final HandPace pace = new HandPace(EVENING);
  private final List<PlannedWindow> windows = new ArrayList<>();
  private final Settings kept = new Settings();
  private Optional<RoomCalendar.Proposal> proposal = Optional.empty();

  /** Settings alone; a calendar keeps nothing else. */
  private static final class Settings implements EventLog {
    private final Map<String, String> values = new HashMap<>();
    private int writes;

    @Override
    public boolean append(String stream, String id, Instant time, String body) {
      throw new UnsupportedOperationException();
    }

    @Override
    public List<Event> events(String stream) {
      return List.of();
    }

    @Override
    public Optional<Event> find(String stream, String id) {
      return Optional.empty();
    }

    @Override
    public List<Event> eventsOfStreams(String beginning) {
      return List.of();
    }

    @Override
    public void set(String name, String value) {
      writes++;
      values.put(name, value);
    }

    @Override
    public Optional<String> setting(String name) {
      return Optional.ofNullable(values.get(name));
    }
  }

  private RoomCalendar calendar() {
    return new RoomCalendar(
        kept,
        new RoomCalendar.Sources(
            room -> room.equals(SHOP) ? List.copyOf(windows) : List.of(),
            room -> proposal,
            RoomCalendarTest::quiet),
        pace::now,
        ZoneId.of("UTC"));
  }

  private static RoomAir quiet(RoomName room) {
    return new RoomAir(
        EVENING,
        AirSettings.FIRST,
        Optional.empty(),
        AirCall.OK,
        List.of(),
        List.of(),
        Optional.empty(),
        Optional.empty());
  }

  private static PlannedWindow demold(Instant from) {
    return new PlannedWindow(
        "job-00000001-demold",
        "fender, left; \"blue\"",
        "Demold check",
        from,
        from.plus(Duration.ofHours(9)),
        Optional.of(from.plus(Duration.ofHours(4))),
        "Press the flange with a fingernail. It must be hard, not only dry to the touch:\nelse wait"
            + " – and look again, at 20 °C an hour later.");
  }

  private static Calendar read(String text) throws IOException, ParserException {
    Calendar calendar = new CalendarBuilder().build(new StringReader(text));
    assertEquals(List.of(), List.copyOf(calendar.validate().getEntries()), text);
    return calendar;
  }

  private static void readTwice(String text) throws IOException, ParserException {
    read(text);
    ICalendar second = Biweekly.parse(text).first();
    assertTrue(second.validate(ICalVersion.V2_0).isEmpty(), second.validate(ICalVersion.V2_0) + "");
  }

  /** Not read with biweekly, which takes time zones out before it counts what there is. */
  private void nothing(RoomName room) throws IOException, ParserException {
    assertEquals(List.of(), read(calendar().feed(room)).getComponents("VEVENT"));
  }

  private static VEvent only(String text) throws IOException, ParserException {
    readTwice(text);
    List<VEvent> events = Biweekly.parse(text).first().getEvents();
    assertEquals(1, events.size(), text);
    return events.get(0);
  }

  @Test
  void twoLibrariesReadAWindowWithItsAlarmAsItWasMeant() throws Exception {
    windows.add(demold(EVENING.plus(Duration.ofHours(8))));
    String text = calendar().feed(SHOP);
    VEvent event = only(text);
    assertEquals("fender, left; \"blue\": Demold check", event.getSummary().getValue());
    assertEquals(
        Instant.parse("2026-03-02T02:00:00Z"), event.getDateStart().getValue().toInstant());
    assertEquals(Instant.parse("2026-03-02T11:00:00Z"), event.getDateEnd().getValue().toInstant());
    assertTrue(
        event.getDescription().getValue().startsWith("Likely from Mon 6:00 AM. Press the flange"),
        event.getDescription().getValue());
    assertTrue(event.getDescription().getValue().contains("touch:\nelse wait – and"));
    assertEquals(0, event.getSequence().getValue());
    assertEquals(1, event.getAlarms().size());
    for (String line : text.split("\r\n", -1)) {
      assertTrue(line.getBytes(StandardCharsets.UTF_8).length <= 75, line);
    }
    assertFalse(text.contains("METHOD"));
    nothing(RoomName.of("annex"));
  }

  @Test
  void anEventKeepsItsIdAndTextUntilItMovesByMoreThanFiveMinutes() throws Exception {
    windows.add(demold(EVENING.plus(Duration.ofHours(8))));
    String first = calendar().feed(SHOP);
    pace.pass(Duration.ofMinutes(30));
    windows.set(0, demold(EVENING.plus(Duration.ofHours(8)).plusSeconds(240)));
    assertEquals(first, calendar().feed(SHOP), "also after a restart");
    assertEquals(1, kept.writes, "nothing is written for it");
    windows.set(0, demold(EVENING.plus(Duration.ofHours(8)).plusSeconds(420)));
    VEvent moved = only(calendar().feed(SHOP));
    assertEquals(1, moved.getSequence().getValue());
    assertEquals(only(first).getUid().getValue(), moved.getUid().getValue());
    assertEquals(
        Instant.parse("2026-03-02T02:07:00Z"), moved.getDateStart().getValue().toInstant());
    assertEquals(
        EVENING.plus(Duration.ofMinutes(30)), moved.getLastModified().getValue().toInstant());
  }

  @Test
  void whatIsUndoneIsCalledOffForAWeekAndComesBackUnderItsId() throws Exception {
    windows.add(demold(EVENING.plus(Duration.ofHours(8))));
    String uid = only(calendar().feed(SHOP)).getUid().getValue();
    windows.clear();
    VEvent off = only(calendar().feed(SHOP));
    assertEquals("CANCELLED", off.getStatus().getValue());
    assertEquals(1, off.getSequence().getValue());
    assertTrue(off.getAlarms().isEmpty(), "it does not ring");
    assertTrue(calendar().one(SHOP, "job-00000001-demold").isEmpty());
    windows.add(demold(EVENING.plus(Duration.ofHours(8))));
    VEvent back = only(calendar().feed(SHOP));
    assertEquals(uid, back.getUid().getValue());
    assertEquals(2, back.getSequence().getValue());
    assertEquals("TENTATIVE", back.getStatus().getValue());
    windows.clear();
    calendar().feed(SHOP);
    pace.pass(Duration.ofDays(8));
    nothing(SHOP);
  }

  @Test
  void aWindowThatIsOverStaysAsItWasForAWeek() throws Exception {
    windows.add(demold(EVENING.plus(Duration.ofHours(8))));
    String before = calendar().feed(SHOP);
    windows.clear();
    pace.pass(Duration.ofDays(2));
    assertEquals(before, calendar().feed(SHOP));
    pace.pass(Duration.ofDays(7));
    nothing(SHOP);
  }

  @Test
  void aStartIsProposedOnlyWhileNoPartIsOnItsWay() throws Exception {
    proposal =
        Optional.of(
            new RoomCalendar.Proposal(EVENING.plus(Duration.ofHours(20)), "Mold warm until 6 PM."));
    assertEquals("Good time to start in shop", only(calendar().feed(SHOP)).getSummary().getValue());
    windows.add(demold(EVENING.plus(Duration.ofHours(8))));
    List<VEvent> events = Biweekly.parse(calendar().feed(SHOP)).first().getEvents();
    assertEquals(2, events.size());
    assertEquals("CANCELLED", events.get(0).getStatus().getValue());
  }

  @Test
  void oneWindowAloneIsAWholeCalendar() throws Exception {
    windows.add(demold(EVENING.plus(Duration.ofHours(8))));
    only(calendar().one(SHOP, "job-00000001-demold").orElseThrow());
    assertTrue(calendar().one(SHOP, "job-00000001-trim").isEmpty());
  }

  @Test
  void whatWasKeptAndCannotBeReadIsToldAnew() throws Exception {
    windows.add(demold(EVENING.plus(Duration.ofHours(8))));
    kept.set("calendar/shop", "[{\"uid\":");
    assertEquals(0, only(calendar().feed(SHOP)).getSequence().getValue());
  }
}
