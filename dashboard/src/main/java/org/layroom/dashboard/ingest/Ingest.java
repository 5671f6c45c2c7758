package org.layroom.dashboard.ingest;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import org.layroom.dashboard.store.AppendResult;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.Channel;
import org.tinylog.Logger;

/**
 * One thread that takes messages from a bounded queue, commits them in batches of one transaction,
 * then acknowledges them, then tells its listener. While the store cannot be written (a full disk)
 * nothing is acknowledged and nothing is dropped: the batch is tried again until it is kept.
 */
public final class Ingest implements AutoCloseable {
  private static final int MOST_QUEUED = 2000;
  private static final int MOST_QUEUED_KIB = 4096;
  private static final int MOST_IN_BATCH = 500;
  private static final Duration RETRY = Duration.ofSeconds(2);
  private static final long IDLE_MILLIS = 50;
  private static final long PATIENCE_MILLIS = 5000;

  private final Store store;
  private final Pace transport;
  private final ReadingListener listener;
  private final IngestTally tally;
  private final MessageReader reader;
  private final BlockingQueue<Inbound> queue = new LinkedBlockingQueue<>(MOST_QUEUED);
  private final Semaphore room = new Semaphore(MOST_QUEUED_KIB);
  private final Thread thread;
  private volatile boolean open = true;

  /**
   * Prepares ingest; {@link #start()} starts its thread.
   *
   * @param transport real time, for retries and quiet minutes
   */
  public Ingest(Store store, Pace transport, ReadingListener listener) {
    this.store = store;
    this.transport = transport;
    this.listener = listener;
    this.tally = new IngestTally(transport);
    this.reader = new MessageReader(tally);
    this.thread = new Thread(this::run, "layroom-ingest");
  }

  public void start() {
    thread.start();
  }

  /**
   * Takes a message. Waits up to five seconds while the queue is full, which holds back whoever
   * delivers.
   *
   * @return false when there was still no room: the message is not taken and must not be
   *     acknowledged
   */
  public boolean accept(Inbound inbound) {
    int kib = kib(inbound);
    try {
      if (room.tryAcquire(kib, PATIENCE_MILLIS, TimeUnit.MILLISECONDS)) {
        if (open && queue.offer(inbound, PATIENCE_MILLIS, TimeUnit.MILLISECONDS)) {
          return true;
        }
        room.release(kib);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    tally.refuse(
        Rejection.PUT_OFF, inbound.topic(), "The store is falling behind; message postponed");
    return false;
  }

  private static int kib(Inbound inbound) {
    return Math.min(MOST_QUEUED_KIB, 1 + inbound.body().length / 1024);
  }

  public IngestCounts counts() {
    return tally.snapshot();
  }

  /** Commits what is queued, then stops. No message may be handed in after. */
  @Override
  public void close() {
    open = false;
    try {
      thread.join(Duration.ofSeconds(10).toMillis());
      if (thread.isAlive()) {
        thread.interrupt();
        thread.join(Duration.ofSeconds(5).toMillis());
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void run() {
    List<Inbound> batch = new ArrayList<>();
    try {
      while (open || !queue.isEmpty()) {
        Inbound first = queue.poll(IDLE_MILLIS, TimeUnit.MILLISECONDS);
        if (first != null) {
          batch.add(first);
          queue.drainTo(batch, MOST_IN_BATCH - 1);
          process(batch);
          batch.forEach(inbound -> room.release(kib(inbound)));
          batch.clear();
        }
      }
    } catch (InterruptedException e) {
      Logger.warn("Ingest was stopped with {} messages not committed", batch.size());
    }
  }

  private record Other(Channel.Addressed from, Inbound inbound) {}

  private void process(List<Inbound> batch) throws InterruptedException {
    List<StoreEntry> entries = new ArrayList<>();
    List<Other> others = new ArrayList<>();
    for (Inbound inbound : batch) {
      tally.message();
      Optional<Channel.Addressed> addressed = Channel.parse(inbound.topic());
      if (addressed.isEmpty()) {
        tally.refuse(Rejection.UNKNOWN_TOPIC, inbound.topic(), "Message ignored");
        continue;
      }
      if (reader.oversized(inbound)) {
        continue;
      }
      switch (addressed.get().kind()) {
        case READINGS, STATUS -> entries.addAll(reader.entries(addressed.get(), inbound));
        case STORED, SETTINGS, ALARM, ACKNOWLEDGE ->
            others.add(new Other(addressed.get(), inbound));
      }
    }
    commit(entries);
    for (Inbound inbound : batch) {
      guarded(l -> inbound.acknowledge());
    }
    for (Other other : others) {
      guarded(l -> l.other(other.from().channel(), other.from().kind(), other.inbound().body()));
    }
  }

  private void commit(List<StoreEntry> entries) throws InterruptedException {
    while (!entries.isEmpty()) {
      try {
        tell(entries, store.append(entries));
        return;
      } catch (StoreFailure e) {
        Logger.error("{} Trying again; messages are not acknowledged until then.", e.getMessage());
        transport.pause(RETRY);
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
        return;
      }
    }
  }

  private void tell(List<StoreEntry> entries, AppendResult appended) {
    guarded(l -> l.marks(appended.marks()));
    for (int i = 0; i < entries.size(); i++) {
      boolean fresh = appended.fresh().get(i);
      StoreEntry entry = entries.get(i);
      if (entry instanceof StoreEntry.Sample sample) {
        tally.sample(fresh);
        if (fresh) {
          guarded(l -> l.stored(sample, SampleClock.backlog(sample.times())));
        }
      } else if (entry instanceof StoreEntry.Status status) {
        guarded(l -> l.status(status));
      }
    }
  }

  private void guarded(Consumer<ReadingListener> call) {
    try {
      call.accept(listener);
    } catch (RuntimeException e) {
      Logger.error(e, "A listener failed; the reading is stored");
    }
  }
}
