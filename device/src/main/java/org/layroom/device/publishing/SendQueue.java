package org.layroom.device.publishing;

import java.io.IOException;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxAppend;
import org.layroom.device.outbox.OutboxSample;
import org.layroom.device.outbox.SequenceRange;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.telemetry.ReadingsBody;
import org.layroom.device.telemetry.Topic;

/**
 * Which sample goes next: those just measured, then the ranges that the disk has lost, then the
 * backlog, oldest first. What it hands out is taken for sent; {@link #restart} begins anew above
 * the mark. For one thread.
 */
final class SendQueue {
  private static final int MOST_FRESH = 200;

  private final Channel channel;
  private final Outbox outbox;
  private final SendGate gate;
  private final MessageWriter envelope;
  private final Backlog backlog;
  private final Deque<Fresh> fresh = new ArrayDeque<>();
  private final Deque<SequenceRange> lost = new ArrayDeque<>();
  private boolean firstDue;

  /** A sample that has just been measured. */
  private record Fresh(OutboxAppend appended, Sample sampled) {}

  /**
   * An empty queue.
   *
   * @param gate is told of each sample that waits no more
   */
  SendQueue(Channel channel, Outbox outbox, SendGate gate) {
    this.channel = channel;
    this.outbox = outbox;
    this.gate = gate;
    this.envelope = new MessageWriter(outbox);
    this.backlog = new Backlog(outbox);
  }

  /**
   * Takes over a sample that was just measured; one that the outbox keeps may be left to the
   * backlog.
   *
   * @param sendsFresh whether samples are sent now as they come
   * @return whether it is queued
   */
  boolean take(OutboxAppend appended, Sample sampled, boolean sendsFresh) {
    boolean kept = appended instanceof OutboxAppend.Kept;
    if (kept && (!sendsFresh || fresh.size() >= MOST_FRESH)) {
      gate.moreWaiting(-1);
      return false;
    }
    fresh.add(new Fresh(appended, sampled));
    while (fresh.size() > MOST_FRESH) {
      fresh.remove();
      gate.moreWaiting(-1);
    }
    return true;
  }

  /** Begins again above the mark. */
  void restart() {
    firstDue = false;
    backlog.restart();
    tellLostAgain();
  }

  /** The first sample above the mark goes next, sent before or not, and the lost ranges again. */
  void tryFirst() {
    firstDue = true;
    tellLostAgain();
  }

  private void tellLostAgain() {
    lost.clear();
    lost.addAll(outbox.lost());
  }

  /** The mark has moved. */
  void progressed() {
    backlog.progressed();
  }

  /** The newest sample that is not stored, ahead of its turn; empty when all are. */
  Optional<Outgoing> newest(ClockReading clock) throws IOException {
    if (outbox.last() <= outbox.mark()) {
      return Optional.empty();
    }
    List<OutboxSample> newest = outbox.read(outbox.last(), 1);
    newest.forEach(sample -> backlog.sentAhead(sample.sequence()));
    return newest.stream().findFirst().map(sample -> readings(envelope.of(sample, clock)));
  }

  /** What is most wanted now; empty when there is nothing left, or enough until the mark moves. */
  Optional<Outgoing> next(ClockReading clock) throws IOException {
    if (firstDue) {
      firstDue = false;
      Optional<OutboxSample> first = outbox.read(outbox.mark() + 1, 1).stream().findFirst();
      if (first.isPresent()) {
        return first.map(sample -> readings(envelope.of(sample, clock)));
      }
    }
    while (!fresh.isEmpty()) {
      Optional<DeviceMessage> message = message(fresh.remove(), clock);
      gate.moreWaiting(-1);
      if (message.isPresent()) {
        return message.map(this::readings);
      }
    }
    if (!lost.isEmpty()) {
      SequenceRange range = lost.remove();
      return Optional.of(
          readings(new DeviceMessage.Lost(outbox.name(), range.first(), range.last())));
    }
    return backlog.next().map(sample -> readings(envelope.of(sample, clock)));
  }

  /** Empty for a sample that the backlog has already sent. */
  private Optional<DeviceMessage> message(Fresh one, ClockReading clock) {
    if (one.appended() instanceof OutboxAppend.Kept kept) {
      long sequence = kept.sample().sequence();
      if (backlog.sent(sequence)) {
        return Optional.empty();
      }
      backlog.sentAhead(sequence);
      return Optional.of(envelope.of(kept.sample(), clock));
    }
    return Optional.of(envelope.unkept(one.sampled(), clock));
  }

  private Outgoing readings(DeviceMessage message) {
    return new Outgoing(Topic.READINGS, ReadingsBody.write(channel, message));
  }
}
