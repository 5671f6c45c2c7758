package org.layroom.dashboard.answer.job;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.layroom.dashboard.job.Job;
import org.layroom.dashboard.job.JobBook;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.job.StoredJobEvent;
import org.layroom.dashboard.warning.AirWarnings;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.emission.Protection;
import org.layroom.predictor.emission.Respirator;

/** What was said of fan and respirator in a room, and whether the next cup asks for it. */
public final class ProtectionAnswers {
  /** What was said longer ago belongs to another evening. */
  private static final Duration EVENING = Duration.ofHours(12);

  /** From the moment that a dose is shown until its cup is mixed. */
  private static final Duration GRACE = Duration.ofMinutes(30);

  private final JobBook book;
  private final AirWarnings warnings;
  private final Supplier<Instant> now;

  public ProtectionAnswers(JobBook book, AirWarnings warnings, Supplier<Instant> now) {
    this.book = book;
    this.warnings = warnings;
    this.now = now;
  }

  /**
   * What was said at a cup of the room so lately that it stands for the next one, of whichever
   * part; empty when nothing was.
   */
  Optional<Protection> standing(RoomName room) {
    Instant oldest = now.get().minus(Protection.STANDS).minus(GRACE);
    return book.jobs(room).stream()
        .flatMap(job -> job.standing().stream())
        .filter(kept -> kept.event() instanceof JobEvent.Mixed)
        .flatMap(kept -> said(kept).stream())
        .filter(one -> one.said().isAfter(oldest))
        .max(Comparator.comparing(Protection::said));
  }

  private Optional<Protection> newest(RoomName room) {
    Instant oldest = now.get().minus(EVENING);
    return book.jobs(room).stream()
        .flatMap(job -> said(job))
        .filter(one -> one.said().isAfter(oldest))
        .max(Comparator.comparing(Protection::said));
  }

  private static Stream<Protection> said(Job job) {
    return job.standing().stream().flatMap(kept -> said(kept).stream());
  }

  private static Optional<Protection> said(StoredJobEvent kept) {
    if (kept.event() instanceof JobEvent.Mixed mixed) {
      return mixed
          .on()
          .map(
              on ->
                  new Protection(
                      kept.time(),
                      on.fan(),
                      on.respirator(),
                      on.mask().flatMap(Respirator::byId).orElse(Respirator.HALF_MASK)));
    }
    return kept.event() instanceof JobEvent.Started started
            && (started.fanOn() || started.respiratorOn())
        ? Optional.of(
            new Protection(
                kept.time(), started.fanOn(), started.respiratorOn(), Respirator.HALF_MASK))
        : Optional.empty();
  }

  /**
   * Adds to a mix what is on, and why it is asked for where it is. No mask is named where the vapor
   * cannot be predicted.
   */
  public ObjectNode tell(RoomName room, ObjectNode mix) {
    Optional<Protection> last = newest(room);
    Optional<Respirator> predicted = Respirator.byId(mix.at("/vapor/respirator/id").asText());
    ObjectNode json = mix.putObject("protection");
    predicted.ifPresent(one -> json.put("mask", one.id()).put("maskWords", one.words()));
    last.ifPresent(
        one ->
            json.put("said", one.said().toString())
                .put("fanOn", one.fanOn())
                .put("respiratorOn", one.respiratorOn()));
    Protection.asked(
            last, now.get(), warnings.newestLeave(room), predicted.orElse(Respirator.HALF_MASK))
        .ifPresent(why -> json.put("asked", why));
    return mix;
  }
}
