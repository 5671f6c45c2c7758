package org.layroom.dashboard.forecast;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.RoomListener;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.room.RoomAnswer;
import org.layroom.predictor.room.RoomForecast;
import org.layroom.predictor.room.RoomResponse;
import org.tinylog.Logger;

/**
 * The rooms' forecasts, made anew on a thread of its own when ten minutes have passed or older
 * readings have come in. Where there are many rooms, those that nobody has asked about for a while
 * are at rest: nothing is held of them, and the next who asks waits until they are learned again
 * from the store. Parts under way ask every minute. Safe for any number of threads.
 */
public final class LearnedRooms implements RoomListener, AutoCloseable {
  private static final Duration LOOK_EVERY = Duration.ofSeconds(2);

  /** A forecast older than this is no longer used for clocks. */
  private static final Duration OLDEST = Duration.ofHours(1);

  private static final int CLOCK_PATHS = 48;

  /** What a room that is awake may hold: what was learned, and paths for clocks and plans. */
  private static final long ROOM_BYTES = 5_000_000;

  private static final long PATIENCE_SECONDS = 20;

  private final DashboardCore core;
  private final OutdoorFile outdoorFile;
  private final Map<RoomName, LearnedRoom> rooms = new ConcurrentHashMap<>();
  private final Map<RoomName, LearnedRoom.Known> known = new ConcurrentHashMap<>();
  private final Map<RoomName, Instant> fed = new ConcurrentHashMap<>();
  private final Set<RoomName> late = ConcurrentHashMap.newKeySet();
  private final Set<RoomName> underWay = ConcurrentHashMap.newKeySet();
  private final ExecutorService worker;
  private final AwakeRooms awake;
  private final Pace.Scheduled looking;

  private LearnedRooms(DashboardCore core, Pace transport, OutdoorFile outdoorFile, int mostAwake) {
    this.core = core;
    this.awake = new AwakeRooms(mostAwake, transport::uptime);
    this.outdoorFile = outdoorFile;
    this.worker =
        Executors.newSingleThreadExecutor(
            task -> {
              Thread thread = new Thread(task, "layroom-forecast");
              thread.setDaemon(true);
              return thread;
            });
    core.addListener(this);
    this.looking = transport.every(LOOK_EVERY, this::look);
  }

  /**
   * Begins to learn; returns at once.
   *
   * @param transport real time, by which it is looked whether there is something to learn
   * @param outdoorFile outdoor temperatures of the past and to come
   * @param zone of times in that file without an offset
   */
  public static LearnedRooms start(
      DashboardCore core, Pace transport, Optional<Path> outdoorFile, ZoneId zone) {
    int fit = (int) Math.min(1000, Runtime.getRuntime().maxMemory() / 2 / ROOM_BYTES);
    return new LearnedRooms(core, transport, new OutdoorFile(outdoorFile, zone), fit);
  }

  @Override
  public void accepted(StoreEntry.Sample sample, boolean backlog) {
    RoomName room = sample.channel().room();
    if (sample.times().corrected().isBefore(fed.getOrDefault(room, Instant.MIN))) {
      late.add(room);
    }
  }

  private void look() {
    Set<RoomName> wanted = awake.of(core.rooms());
    allRestBut(wanted);
    for (RoomName room : wanted) {
      LearnedRoom.Known before = known.get(room);
      boolean slotPassed =
          before == null || !before.at().equals(StoredSlots.endBefore(core.snapshot(room).at()));
      if ((slotPassed || late.contains(room)) && underWay.add(room)) {
        worker.execute(() -> refresh(room));
      }
    }
  }

  /** Forgets all but some rooms. */
  private void allRestBut(Set<RoomName> wanted) {
    for (Map<RoomName, ?> held : List.of(rooms, known, fed)) {
      held.keySet().removeIf(room -> !wanted.contains(room) && !underWay.contains(room));
    }
    late.retainAll(fed.keySet());
  }

  private void refresh(RoomName room) {
    try {
      learn(room);
    } catch (RuntimeException e) {
      Logger.error(e, "The forecast of room {} failed", room);
    } finally {
      underWay.remove(room);
    }
  }

  private LearnedRoom.Known learn(RoomName room) {
    LearnedRoom learned =
        rooms.computeIfAbsent(room, name -> new LearnedRoom(core.store().history(), outdoorFile));
    synchronized (learned) {
      RoomSnapshot snapshot = core.snapshot(room);
      boolean anew = late.remove(room);
      // Before the store is read: what comes in from now on and is older than this comes late.
      fed.put(room, StoredSlots.endBefore(snapshot.at()));
      LearnedRoom.Known made = learned.learn(snapshot, anew);
      known.put(room, made);
      return made;
    }
  }

  private LearnedRoom.Known now(RoomName room) {
    awake.asked(room);
    LearnedRoom.Known before = known.get(room);
    if (before != null) {
      return before;
    }
    LearnedRoom.Known made = learn(room);
    if (rooms.size() > awake.most()) {
      allRestBut(awake.of(core.rooms()));
    }
    return made;
  }

  /** The room from the last whole ten minutes on, or why nothing can be said. */
  public RoomAnswer answer(RoomName room) {
    return now(room).answer();
  }

  /** Until when readings were taken in for {@link #answer}. */
  public Instant at(RoomName room) {
    return now(room).at();
  }

  /** How a room has answered to heating and airing. */
  public RoomResponse response(RoomName room) {
    return now(room).response();
  }

  /** Somebody looks at a room: it is forecast for a while. */
  public void lookedAt(RoomName room) {
    awake.asked(room);
  }

  /** The newest forecast, without waiting for one; empty when there is none or it is old. */
  public Optional<RoomForecast> latest(RoomName room, Instant now) {
    LearnedRoom.Known made = known.get(room);
    return made != null
            && made.answer() instanceof RoomForecast forecast
            && !now.isBefore(forecast.at())
            && now.isBefore(forecast.at().plus(OLDEST))
        ? Optional.of(forecast)
        : Optional.empty();
  }

  /**
   * The mold from now on, in minutes from now, beginning with what is measured.
   *
   * @param nowC what the mold is now, degC
   */
  public Optional<TemperatureOutlook> mold(RoomName room, Instant now, double nowC) {
    lookedAt(room);
    return latest(room, now).map(f -> f.moldOrAir().outlookFrom(now, CLOCK_PATHS, nowC));
  }

  /** Stops learning; waits for what is under way. */
  @Override
  public void close() {
    looking.cancel();
    core.removeListener(this);
    worker.shutdown();
    try {
      if (!worker.awaitTermination(PATIENCE_SECONDS, TimeUnit.SECONDS)) {
        Logger.warn("A forecast is still running");
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
