package org.layroom.dashboard.announce;

import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Supplier;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.RoomName;

/**
 * Looks every few seconds of the room's time what is new, and announces it: a warning that was
 * raised or has ended, a window of a part that opens, closes soon or is over, a cup to stop with.
 * What stood before the start is not announced again. Does nothing without an address.
 */
public final class Announcer implements AutoCloseable {
  private static final Duration LOOK = Duration.ofSeconds(5);

  /**
   * Something that stands in a room.
   *
   * @param id the same for as long as it stands
   * @param warning whether its end is told too
   */
  public record Standing(String id, boolean warning, String title, String words) {}

  private final Optional<HousePost> post;
  private final Optional<HouseAddress> address;
  private final Supplier<List<RoomName>> rooms;
  private final Function<RoomName, List<Standing>> standing;
  private final Supplier<Instant> now;
  private final Map<RoomName, Map<String, Standing>> known = new HashMap<>();
  private final Optional<Pace.Scheduled> looking;

  private Announcer(
      Optional<HouseAddress> address,
      Supplier<List<RoomName>> rooms,
      Function<RoomName, List<Standing>> standing,
      Pace pace,
      Pace transport) {
    this.address = address;
    this.post = address.map(one -> new HousePost(one, transport));
    this.rooms = rooms;
    this.standing = standing;
    this.now = pace::now;
    this.looking = address.map(one -> pace.every(LOOK, this::look));
  }

  /**
   * Begins to look.
   *
   * @param address where to post; empty for nowhere
   * @param standing all that stands in a room now
   * @param pace the room's time
   * @param transport real time
   */
  public static Announcer start(
      Optional<HouseAddress> address,
      Supplier<List<RoomName>> rooms,
      Function<RoomName, List<Standing>> standing,
      Pace pace,
      Pace transport) {
    return new Announcer(address, rooms, standing, pace, transport);
  }

  private synchronized void look() {
    for (RoomName room : rooms.get()) {
      Map<String, Standing> stands = new LinkedHashMap<>();
      standing.apply(room).forEach(one -> stands.put(one.id(), one));
      Map<String, Standing> before = known.put(room, stands);
      if (before != null) {
        tell(room, before, stands);
      }
    }
  }

  private void tell(RoomName room, Map<String, Standing> before, Map<String, Standing> stands) {
    stands.forEach(
        (id, one) -> {
          if (!before.containsKey(id)) {
            say(room, one.warning() ? "warning-raised" : "part", one.title(), one.words());
          }
        });
    before.forEach(
        (id, one) -> {
          if (one.warning() && !stands.containsKey(id)) {
            say(room, "warning-ended", "Ended: " + one.title(), "This warning has ended.");
          }
        });
  }

  private void say(RoomName room, String event, String title, String words) {
    post.ifPresent(one -> one.soon(new Announcement(room, event, title, words, now.get())));
  }

  /** Where announcements go; empty for nowhere. */
  public Optional<HouseAddress> address() {
    return address;
  }

  /** Why the newest announcement was not taken. */
  public Optional<String> trouble() {
    return post.flatMap(HousePost::trouble);
  }

  /**
   * Posts one to try the address, and waits for what comes back.
   *
   * @return empty when it was taken, else why it was not
   */
  public Optional<String> tryOut(RoomName room) {
    return post.map(
            one ->
                one.now(
                    new Announcement(
                        room,
                        "test",
                        "Layroom test",
                        "This is a test. No warning stands because of it.",
                        now.get())))
        .orElseGet(() -> Optional.of("No address is set: announce.url in the settings."));
  }

  @Override
  public void close() {
    looking.ifPresent(Pace.Scheduled::cancel);
    post.ifPresent(HousePost::close);
  }
}
