package org.layroom.dashboard.ingest;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Executor;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Topic;
import org.tinylog.Logger;

/**
 * Two threads. One takes messages, acknowledges those whose readings a device keeps in its outbox,
 * and tells its listener of them at once. The other commits them in batches (see {@link
 * CommitRule}), acknowledges the rest, and says the stored marks. While the store cannot be written
 * (a full disk) the first goes on, so that watching the air needs no disk: no mark is said, so what
 * has an outbox comes again, and what has none is not acknowledged.
 */
public final class Ingest implements AutoCloseable {
  private static final int MOST_QUEUED_KIB = 2048;
  private static final long PATIENCE_MILLIS = 5000;
  private static final long ROOM_MILLIS = 50;

  private final Pace transport;
  private final ReadingListener listener;
  private final IngestTally tally;
  private final MessageReader reader;
  private final CommitRule rule = new CommitRule();
  private final KnownSamples known;
  private final Committer committer;
  private final Semaphore room = new Semaphore(MOST_QUEUED_KIB);
  private final Executor intake;
  private final Optional<ExecutorService> ownIntake;
  private final Optional<ExecutorService> ownCommits;
  private volatile boolean open = true;

  /**
   * Prepares ingest; {@link #start()} begins to commit.
   *
   * @param rooms how many there may be
   * @param transport real time: how long what came in waits for its commit
   */
  public Ingest(Store store, RoomCap rooms, Pace transport, ReadingListener listener) {
    this(
        store,
        rooms,
        transport,
        listener,
        Optional.of(thread("layroom-ingest")),
        Optional.of(thread("layroom-commit")));
  }

  private Ingest(
      Store store,
      RoomCap rooms,
      Pace transport,
      ReadingListener listener,
      Optional<ExecutorService> intake,
      Optional<ExecutorService> commits) {
    this.transport = transport;
    this.listener = listener;
    this.ownIntake = intake;
    this.ownCommits = commits;
    this.intake = intake.<Executor>map(own -> own).orElse(Runnable::run);
    this.tally = new IngestTally(transport);
    this.reader = new MessageReader(tally, new SeriesCap(store.sources(), rooms));
    this.known = new KnownSamples(store.ranges());
    this.committer =
        new Committer(
            store,
            transport,
            commits.<Executor>map(own -> own).orElse(Runnable::run),
            tally,
            listener::marks);
  }

  /** One that does everything on the thread that hands messages in and moves the time. */
  static Ingest onCallersThread(Store store, Pace transport, ReadingListener listener) {
    return new Ingest(
        store, RoomCap.ofThisProcess(), transport, listener, Optional.empty(), Optional.empty());
  }

  public void start() {
    committer.start();
  }

  private static ExecutorService thread(String name) {
    return Executors.newSingleThreadExecutor(task -> new Thread(task, name));
  }

  /**
   * Takes a message. Waits up to five seconds while many are queued, which holds back whoever
   * delivers.
   *
   * @return false when there was still no room: the message is not taken and must not be
   *     acknowledged
   */
  public boolean accept(Inbound inbound) {
    int kib = kib(inbound);
    try {
      if (open && room.tryAcquire(kib, PATIENCE_MILLIS, TimeUnit.MILLISECONDS)) {
        intake.execute(
            () -> {
              try {
                take(inbound);
              } catch (RuntimeException e) {
                Logger.error(e, "A message on {} was not understood", inbound.topic());
              } finally {
                room.release(kib);
              }
            });
        return true;
      }
    } catch (RejectedExecutionException e) {
      room.release(kib);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    postponed(inbound);
    return false;
  }

  /**
   * Whether a message that the broker had kept must not be believed: readings are never retained,
   * and one without a time would be taken for one of now at each connect. Counted when it is so.
   */
  public boolean refusesRetained(String topic) {
    boolean readings = Channel.parse(topic).filter(one -> one.kind() == Topic.READINGS).isPresent();
    if (readings) {
      tally.refuse(Rejection.RETAINED, topic, "Message ignored");
    }
    return readings;
  }

  private void postponed(Inbound inbound) {
    tally.refuse(
        Rejection.PUT_OFF, inbound.topic(), "The store is falling behind; message postponed");
  }

  private static int kib(Inbound inbound) {
    return Math.min(MOST_QUEUED_KIB, 1 + inbound.body().length / 1024);
  }

  public IngestCounts counts() {
    return tally.snapshot();
  }

  /** Whether the last try to write has failed. */
  public boolean isFailing() {
    return committer.isFailing();
  }

  /** How many messages wait for their commit. */
  public int waiting() {
    return committer.waiting();
  }

  /** Asks for a commit of what was accepted, and does not wait for it. */
  public void commitSoon() {
    committer.soon();
  }

  /**
   * Commits what was accepted of a room and a stretch of time, before a question about it is
   * answered. While the store takes nothing this does nothing.
   */
  void commitFor(RoomName asked, Instant from, Instant to) {
    committer.commitFor(asked, from, to);
  }

  /** Commits what was accepted; while the store takes nothing this does nothing. */
  void commitNow() {
    committer.commitNow();
  }

  /** Takes what is queued, commits it, then stops. No message may be handed in after. */
  @Override
  public void close() {
    open = false;
    ownIntake.ifPresent(Ingest::end);
    committer.close();
    ownCommits.ifPresent(Ingest::end);
  }

  private static void end(ExecutorService thread) {
    thread.shutdown();
    try {
      if (!thread.awaitTermination(10, TimeUnit.SECONDS)) {
        thread.shutdownNow();
      }
    } catch (InterruptedException e) {
      thread.shutdownNow();
      Thread.currentThread().interrupt();
    }
  }

  private void take(Inbound inbound) {
    tally.message();
    Optional<Channel.Addressed> addressed = Channel.parse(inbound.topic());
    if (addressed.isEmpty()) {
      tally.refuse(Rejection.UNKNOWN_TOPIC, inbound.topic(), "Message ignored");
      guarded(l -> inbound.acknowledge());
    } else if (reader.oversized(inbound)) {
      guarded(l -> inbound.acknowledge());
    } else {
      take(addressed.get(), inbound);
    }
  }

  private void take(Channel.Addressed from, Inbound inbound) {
    switch (from.kind()) {
      case READINGS, STATUS -> keep(reader.entries(from, inbound), inbound);
      case STORED, SETTINGS, ACKNOWLEDGE -> guarded(l -> inbound.acknowledge());
      case ALARM -> {
        guarded(l -> inbound.acknowledge());
        if (reader.isAlarm(inbound)) {
          guarded(l -> l.other(from.channel(), from.kind(), inbound.body()));
        }
      }
    }
  }

  /** It waits for its commit before anybody hears of it: who hears may ask for what is stored. */
  private void keep(List<StoreEntry> entries, Inbound inbound) {
    boolean waits = entries.stream().anyMatch(CommitRule::waitsForCommit);
    if (!waits) {
      guarded(l -> inbound.acknowledge());
    }
    if (entries.isEmpty()) {
      return;
    }
    Accepted accepted = accepted(entries, waits ? Optional.of(inbound) : Optional.empty(), inbound);
    boolean kept = committer.add(accepted);
    entries.forEach(this::tell);
    if (kept || keepLater(accepted, inbound)) {
      if (waits) {
        committer.soon();
      }
    }
  }

  private Accepted accepted(
      List<StoreEntry> entries, Optional<Inbound> toAcknowledge, Inbound inbound) {
    Duration now = transport.uptime();
    Duration patience = CommitRule.QUIET;
    for (StoreEntry entry : entries) {
      if (entry instanceof StoreEntry.Status status) {
        rule.said(status.channel(), status.status());
      }
      Duration own = rule.patience(entry, now);
      patience = own.compareTo(patience) < 0 ? own : patience;
    }
    return new Accepted(entries, toAcknowledge, now.plus(patience), kib(inbound));
  }

  /**
   * There was no room. A store that is slow is waited for; of one that takes nothing only what has
   * no outbox waits on, for that is nowhere else. The rest comes again: its mark is not said.
   */
  private boolean keepLater(Accepted accepted, Inbound inbound) {
    boolean elsewhere = accepted.toAcknowledge().isEmpty();
    long left = PATIENCE_MILLIS / ROOM_MILLIS;
    try {
      while (open && !(elsewhere && (committer.isFailing() || left-- <= 0))) {
        transport.pause(Duration.ofMillis(ROOM_MILLIS));
        if (committer.add(accepted)) {
          return true;
        }
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    postponed(inbound);
    return false;
  }

  private void tell(StoreEntry entry) {
    if (entry instanceof StoreEntry.Sample sample) {
      boolean fresh = known.isNew(sample);
      tally.sample(fresh);
      if (fresh) {
        guarded(l -> l.accepted(sample, SampleClock.backlog(sample.times())));
      }
    } else if (entry instanceof StoreEntry.Status status) {
      guarded(l -> l.status(status));
    } else if (entry instanceof StoreEntry.Lost lost) {
      known.lost(lost);
    }
  }

  private void guarded(Consumer<ReadingListener> call) {
    try {
      call.accept(listener);
    } catch (RuntimeException e) {
      Logger.error(e, "A listener failed; the reading is kept");
    }
  }
}
