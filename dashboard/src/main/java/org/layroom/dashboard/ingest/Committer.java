package org.layroom.dashboard.ingest;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Executor;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Consumer;
import org.layroom.dashboard.store.AppendResult;
import org.layroom.dashboard.store.OutboxMark;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.RoomName;
import org.tinylog.Logger;

/**
 * Commits what waits: when the first of it is due, when much has gathered, when somebody asks. Then
 * acknowledges what was not acknowledged on receipt, and says the stored marks. While the store
 * takes nothing it is tried again every two seconds. Never called by who judges readings, so that
 * no alarm waits for a disk. Thread-safe.
 */
final class Committer {
  static final int MOST_IN_BATCH = 500;
  private static final Duration RETRY = Duration.ofSeconds(2);
  private static final Duration SAID_EVERY = Duration.ofMinutes(1);
  private static final Duration LOOK = Duration.ofMillis(250);

  /** A question waits no longer than this for a commit under way. */
  private static final long QUESTION_MILLIS = 2000;

  private final Store store;
  private final Pace transport;
  private final Executor thread;
  private final IngestTally tally;
  private final Consumer<List<OutboxMark>> marks;
  private final Waiting waiting = new Waiting();
  private final ReentrantLock committing = new ReentrantLock();
  private final AtomicBoolean toLook = new AtomicBoolean();
  private final AtomicBoolean wanted = new AtomicBoolean();
  private volatile Optional<Pace.Scheduled> looking = Optional.empty();
  private volatile Optional<Duration> retryAt = Optional.empty();
  private Optional<Duration> saidAt = Optional.empty();

  /**
   * Nothing waits yet.
   *
   * @param thread where commits run
   * @param marks hears up to where outboxes are stored, one batch after the other
   */
  Committer(
      Store store,
      Pace transport,
      Executor thread,
      IngestTally tally,
      Consumer<List<OutboxMark>> marks) {
    this.store = store;
    this.transport = transport;
    this.thread = thread;
    this.tally = tally;
    this.marks = marks;
  }

  /** Begins to look whether something is due. */
  void start() {
    looking = Optional.of(transport.every(LOOK, this::lookSoon));
  }

  /** Takes something that waits from now on; false when there is no room for it. */
  boolean add(Accepted accepted) {
    boolean added = waiting.add(accepted);
    if (waiting.size() >= MOST_IN_BATCH) {
      soon();
    }
    return added;
  }

  /** Whether the last try to write has failed. */
  boolean isFailing() {
    return retryAt.isPresent();
  }

  int waiting() {
    return waiting.size();
  }

  /** Asks for a commit of everything, without waiting for it. */
  void soon() {
    wanted.set(true);
    lookSoon();
  }

  private void lookSoon() {
    if (toLook.compareAndSet(false, true)) {
      try {
        thread.execute(this::look);
      } catch (RejectedExecutionException e) {
        Logger.debug("Ingest has stopped: {}", e.getMessage());
      }
    }
  }

  private void look() {
    toLook.set(false);
    Duration now = transport.uptime();
    boolean due = waiting.dueAt().filter(at -> at.compareTo(now) <= 0).isPresent();
    if (!(due || wanted.get()) || isTooEarly(now)) {
      return;
    }
    wanted.set(false);
    committing.lock();
    try {
      commitAll();
    } finally {
      committing.unlock();
    }
  }

  private boolean isTooEarly(Duration now) {
    return retryAt.filter(at -> now.compareTo(at) < 0).isPresent();
  }

  /**
   * Commits before a question is answered, on the asker's thread. While the store takes nothing, or
   * takes very long, the question is answered from what is committed.
   */
  void commitFor(RoomName room, Instant from, Instant to) {
    if (waiting.concerns(room, from, to)) {
      commitNow();
    }
  }

  /** Commits everything that waits, if the store takes it; on the caller's thread. */
  void commitNow() {
    if (committing.isHeldByCurrentThread() || isTooEarly(transport.uptime())) {
      return;
    }
    try {
      if (committing.tryLock(QUESTION_MILLIS, TimeUnit.MILLISECONDS)) {
        try {
          commitAll();
        } finally {
          committing.unlock();
        }
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** What comes in meanwhile waits for the next turn. */
  private void commitAll() {
    for (int left = waiting.size(); left > 0; ) {
      List<Accepted> batch = waiting.oldest(Math.min(left, MOST_IN_BATCH));
      List<StoreEntry> entries = new ArrayList<>();
      batch.forEach(accepted -> entries.addAll(accepted.entries()));
      try {
        commit(entries);
      } catch (StoreFailure e) {
        failed(e);
        return;
      }
      retryAt = Optional.empty();
      waiting.done(batch.size());
      batch.forEach(accepted -> accepted.toAcknowledge().ifPresent(this::acknowledge));
      left -= batch.size();
    }
  }

  private void failed(StoreFailure e) {
    Duration now = transport.uptime();
    if (saidAt.filter(at -> now.minus(at).compareTo(SAID_EVERY) < 0).isEmpty()) {
      saidAt = Optional.of(now);
      Logger.error(
          "{} Trying again every {} s; nothing is reported as stored until then.",
          e.getMessage(),
          RETRY.toSeconds());
    }
    retryAt = Optional.of(now.plus(RETRY));
    wanted.set(true);
  }

  private void commit(List<StoreEntry> entries) {
    try {
      tell(store.append(entries));
    } catch (StoreFailure e) {
      throw e;
    } catch (RuntimeException e) {
      if (entries.size() == 1) {
        Logger.error(e, "This reading cannot be stored");
        tally.refuse(
            Rejection.NOT_STORABLE, entries.get(0).channel().baseName(), String.valueOf(e));
        return;
      }
      for (StoreEntry entry : entries) {
        commit(List.of(entry));
      }
    }
  }

  private void tell(AppendResult appended) {
    try {
      marks.accept(appended.marks());
    } catch (RuntimeException e) {
      Logger.error(e, "A listener failed; the readings are stored");
    }
  }

  private void acknowledge(Inbound inbound) {
    try {
      inbound.acknowledge();
    } catch (RuntimeException e) {
      Logger.error(e, "A message was not acknowledged; it is stored");
    }
  }

  /** Commits what waits, if the store takes it, and stops looking. */
  void close() {
    looking.ifPresent(Pace.Scheduled::cancel);
    committing.lock();
    try {
      commitAll();
    } finally {
      committing.unlock();
    }
    if (waiting.size() > 0) {
      Logger.warn("Ingest was stopped with {} messages not committed", waiting.size());
    }
  }
}
