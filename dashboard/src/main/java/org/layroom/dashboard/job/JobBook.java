package org.layroom.dashboard.job;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.layroom.dashboard.store.EventLog;
import org.layroom.device.telemetry.RoomName;
import org.tinylog.Logger;

/**
 * All jobs of all rooms, kept in the store. An event is taken once, however often it is sent; one
 * that was tapped on an old picture of its job is turned away and the new picture shown. Safe for
 * any number of threads.
 */
public final class JobBook {
  private static final String STREAMS = "job/";
  private static final JsonMapper JSON = JsonMapper.builder().build();

  /**
   * An event on its way in.
   *
   * @param id made by the sender, the same when it is sent again
   * @param seen position of the newest event the sender knew of this job; empty for a start
   * @param ago how long before now it happened
   */
  public record Post(String id, Optional<Long> seen, Duration ago, JobEvent event) {}

  /** What became of a posted event. */
  public sealed interface Outcome {
    /** Taken. */
    record Taken(RoomName room, Job job, StoredJobEvent event) implements Outcome {}

    /** Taken before: sent twice. */
    record Known(Job job) implements Outcome {}

    /** Not taken: it does not fit the job as it stands now, which may be shown. */
    record Refused(Optional<Job> job, String words) implements Outcome {}
  }

  /** Tells the room as it is, to be kept beside an event. */
  public interface Surroundings {
    /** An object to keep; never much over a few kilobytes. */
    ObjectNode around(RoomName room, JobEvent event, Instant time);
  }

  private record Held(RoomName room, Job job) {}

  private final EventLog log;
  private final Supplier<Instant> now;
  private final Surroundings surroundings;
  private final Map<String, Held> jobs = new LinkedHashMap<>();
  private final List<Consumer<Outcome.Taken>> listeners = new CopyOnWriteArrayList<>();

  /** Reads all jobs from the store. */
  public JobBook(EventLog log, Supplier<Instant> now, Surroundings surroundings) {
    this.log = log;
    this.now = now;
    this.surroundings = surroundings;
    Map<String, List<StoredJobEvent>> events = new LinkedHashMap<>();
    for (EventLog.Event event : log.eventsOfStreams(STREAMS)) {
      read(event)
          .ifPresent(
              kept -> events.computeIfAbsent(event.stream(), s -> new ArrayList<>()).add(kept));
    }
    events.forEach(
        (stream, kept) -> {
          String[] parts = stream.split("/", 3);
          jobs.put(parts[2], new Held(RoomName.of(parts[1]), Job.of(parts[2], kept)));
        });
  }

  private static Optional<StoredJobEvent> read(EventLog.Event event) {
    try {
      JsonNode body = JSON.readTree(event.body());
      JobJson.Parsed parsed = JobJson.read(body.path("event"), Set.of());
      if (parsed.event().isPresent() && body.path("around") instanceof ObjectNode around) {
        return Optional.of(
            new StoredJobEvent(
                event.position(), event.id(), event.time(), parsed.event().get(), around));
      }
      Logger.error("Event {} of {} cannot be read: {}", event.id(), event.stream(), parsed);
    } catch (JsonProcessingException e) {
      Logger.error(e, "Event {} of {} is no JSON", event.id(), event.stream());
    }
    return Optional.empty();
  }

  /** Is told of each event that was taken, on the thread that brought it. */
  public void addListener(Consumer<Outcome.Taken> listener) {
    listeners.add(listener);
  }

  /** Takes an event in, or says why not. It is on disk when this returns. */
  public Outcome post(RoomName room, String jobId, Post post) {
    Outcome outcome = keep(room, jobId, post);
    if (outcome instanceof Outcome.Taken taken) {
      listeners.forEach(listener -> listener.accept(taken));
    }
    return outcome;
  }

  private synchronized Outcome keep(RoomName room, String jobId, Post post) {
    Held held = jobs.get(jobId);
    if (held == null) {
      return start(room, jobId, post);
    }
    Job job = held.job();
    if (!held.room().equals(room)) {
      return new Outcome.Refused(
          Optional.empty(), "Job " + jobId + " is in room " + held.room().value() + ".");
    }
    Optional<StoredJobEvent> same =
        job.events().stream().filter(kept -> kept.id().equals(post.id())).findFirst();
    if (same.isPresent()) {
      return same.get().event().equals(post.event())
          ? new Outcome.Known(job)
          : new Outcome.Refused(Optional.of(job), "This id was already used for something else.");
    }
    Optional<String> old = post.event().moves() ? seenTooLittle(job, post) : Optional.empty();
    Optional<String> misfit = old.or(() -> job.refusal(post.event()));
    if (misfit.isPresent()) {
      return new Outcome.Refused(Optional.of(job), misfit.get());
    }
    return append(room, jobId, post, Optional.of(job));
  }

  private static Optional<String> seenTooLittle(Job job, Post post) {
    long seen = post.seen().orElse(0L);
    return job.movedSince(seen)
        .map(
            moved ->
                "Somebody else was faster: \""
                    + moved.event().type()
                    + "\" was recorded first. Check the part as it is now, and tap again if"
                    + " that is still right.");
  }

  private Outcome start(RoomName room, String jobId, Post post) {
    if (!(post.event() instanceof JobEvent.Started started)) {
      return new Outcome.Refused(Optional.empty(), "There is no part " + jobId + ".");
    }
    for (Held held : jobs.values()) {
      if (held.room().equals(room) && held.job().open()) {
        for (String mold : started.molds()) {
          if (held.job().molds().stream().anyMatch(mold::equalsIgnoreCase)) {
            return new Outcome.Refused(
                Optional.of(held.job()),
                "The mold \""
                    + mold
                    + "\" is in use by \""
                    + held.job().part()
                    + "\". Finish or cancel that part first, or choose another mold.");
          }
        }
      }
    }
    return append(room, jobId, post, Optional.empty());
  }

  private Outcome append(RoomName room, String jobId, Post post, Optional<Job> job) {
    Instant time = now.get().minus(post.ago());
    Instant earliest = job.map(Job::begunAt).filter(begun -> time.isBefore(begun)).orElse(time);
    ObjectNode around = surroundings.around(room, post.event(), earliest);
    ObjectNode body = JSON.createObjectNode();
    body.set("event", JobJson.write(post.event()));
    body.set("around", around);
    String stream = STREAMS + room.value() + "/" + jobId;
    log.append(stream, post.id(), earliest, body.toString());
    long position = log.find(stream, post.id()).orElseThrow().position();
    StoredJobEvent kept = new StoredJobEvent(position, post.id(), earliest, post.event(), around);
    Job now = job.map(before -> before.with(kept)).orElseGet(() -> Job.of(jobId, List.of(kept)));
    jobs.put(jobId, new Held(room, now));
    return new Outcome.Taken(room, now, kept);
  }

  /** A job of a room. */
  public synchronized Optional<Job> job(RoomName room, String id) {
    return Optional.ofNullable(jobs.get(id))
        .filter(held -> held.room().equals(room))
        .map(Held::job);
  }

  /** All jobs of a room, the newest first. */
  public synchronized List<Job> jobs(RoomName room) {
    return jobs.values().stream()
        .filter(held -> held.room().equals(room))
        .map(Held::job)
        .sorted(Comparator.comparing(Job::begunAt).reversed())
        .toList();
  }

  /** All jobs of all rooms. */
  public synchronized List<Job> all() {
    return jobs.values().stream().map(Held::job).toList();
  }

  /** All jobs by their room. */
  public synchronized Map<RoomName, List<Job>> rooms() {
    return jobs.values().stream()
        .collect(
            Collectors.groupingBy(Held::room, Collectors.mapping(Held::job, Collectors.toList())));
  }

  /** The jobs of a room that are on their way, the oldest first. */
  public synchronized List<Job> open(RoomName room) {
    return jobs.values().stream()
        .filter(held -> held.room().equals(room) && held.job().open())
        .map(Held::job)
        .sorted(Comparator.comparing(Job::begunAt))
        .toList();
  }
}
