package org.layroom.dashboard.job;

import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * A part as its events have made it. Immutable; {@link #refusal} says whether one more event fits.
 */
public final class Job {
  /** Where a job stands. */
  public enum State {
    OPEN("open", "in progress"),
    OUT("out", "demolded"),
    GIVEN_UP("given-up", "canceled");

    private final String id;
    private final String words;

    State(String id, String words) {
      this.id = id;
      this.words = words;
    }

    /** The name in JSON. */
    public String id() {
      return id;
    }

    /** The words on the page. */
    public String words() {
      return words;
    }
  }

  private final String id;
  private final List<StoredJobEvent> all;
  private final List<StoredJobEvent> standing;
  private final StoredJobEvent start;
  private final JobEvent.Started started;
  private final Map<String, Step> steps;
  private final Optional<StoredJobEvent> end;

  private Job(String id, List<StoredJobEvent> all) {
    this.id = id;
    this.all = List.copyOf(all);
    Set<String> undone =
        all.stream()
            .map(StoredJobEvent::event)
            .filter(JobEvent.Undone.class::isInstance)
            .map(event -> ((JobEvent.Undone) event).event())
            .collect(Collectors.toSet());
    this.standing =
        all.stream()
            .filter(kept -> !undone.contains(kept.id()))
            .filter(kept -> !(kept.event() instanceof JobEvent.Undone))
            .toList();
    this.start = all.get(0);
    if (!(start.event() instanceof JobEvent.Started begun)) {
      throw new IllegalArgumentException("job " + id + " does not begin with its start");
    }
    this.started = begun;
    this.steps = fold();
    this.end =
        standing.stream()
            .filter(kept -> kept.event() instanceof JobEvent.GivenUp || takesOut(kept.event()))
            .findFirst();
  }

  /** The job of these events, the oldest first; the first is its start. */
  public static Job of(String id, List<StoredJobEvent> events) {
    return new Job(id, events);
  }

  /** Whether the newest word on it was that the fan is on. */
  public boolean fanOn() {
    return newestOn().map(JobEvent.On::fan).orElse(started.fanOn());
  }

  /** Whether the newest word on it was that the respirator is on. */
  public boolean respiratorOn() {
    return newestOn().map(JobEvent.On::respirator).orElse(started.respiratorOn());
  }

  private Optional<JobEvent.On> newestOn() {
    return standing.stream()
        .map(StoredJobEvent::event)
        .flatMap(event -> event instanceof JobEvent.Mixed mixed ? mixed.on().stream() : Stream.of())
        .reduce((older, newer) -> newer);
  }

  /** With one more event. */
  public Job with(StoredJobEvent event) {
    List<StoredJobEvent> more = new ArrayList<>(all);
    more.add(event);
    return new Job(id, more);
  }

  private Map<String, Step> fold() {
    Map<String, Step> folded = new LinkedHashMap<>();
    chain().forEach(step -> folded.put(step.id(), Step.planned(step)));
    for (StoredJobEvent kept : standing) {
      stepOf(kept.event())
          .ifPresent(step -> folded.computeIfPresent(step, (name, now) -> now.after(kept)));
    }
    return folded;
  }

  /** The step that an event is about. */
  private static Optional<String> stepOf(JobEvent event) {
    if (event instanceof JobEvent.Applied applied) {
      return Optional.of(applied.step());
    }
    if (event instanceof JobEvent.Mixed mixed) {
      return Optional.of(mixed.step());
    }
    if (event instanceof JobEvent.FilmRead film) {
      return Optional.of(film.step());
    }
    if (event instanceof JobEvent.Done done) {
      return Optional.of(done.step());
    }
    if (event instanceof JobEvent.Skipped skipped) {
      return Optional.of(skipped.step());
    }
    if (event instanceof JobEvent.Checked checked) {
      return Optional.of(checked.step());
    }
    return Optional.empty();
  }

  private List<PlannedJobStep> chain() {
    List<PlannedJobStep> chain = new ArrayList<>(started.steps());
    for (StoredJobEvent kept : standing) {
      if (kept.event() instanceof JobEvent.StepAdded added) {
        int place =
            added
                .before()
                .map(before -> chain.stream().map(PlannedJobStep::id).toList().indexOf(before))
                .filter(found -> found >= 0)
                .orElse(chain.size());
        chain.add(place, added.step());
      }
    }
    return chain;
  }

  private boolean takesOut(JobEvent event) {
    return event instanceof JobEvent.Done done
        && Optional.ofNullable(steps.get(done.step()))
            .filter(step -> step.planned().kind() == StepKind.DEMOLD)
            .isPresent();
  }

  public String id() {
    return id;
  }

  /** What is made. */
  public String part() {
    return started.part();
  }

  /** How it was begun. */
  public JobEvent.Started started() {
    return started;
  }

  public List<String> molds() {
    return started.molds();
  }

  public Instant begunAt() {
    return start.time();
  }

  /** When it came out of the mold or was given up. */
  public Optional<Instant> endedAt() {
    return end.map(StoredJobEvent::time);
  }

  /** Where it stands. */
  public State state() {
    return end.map(kept -> kept.event() instanceof JobEvent.GivenUp ? State.GIVEN_UP : State.OUT)
        .orElse(State.OPEN);
  }

  public boolean open() {
    return state() == State.OPEN;
  }

  /** The steps in order. */
  public List<Step> steps() {
    return List.copyOf(steps.values());
  }

  /** The first step that is neither done nor left out. */
  public Optional<Step> current() {
    return steps.values().stream().filter(step -> !step.over()).findFirst();
  }

  /** All events, undone ones too, the oldest first. */
  public List<StoredJobEvent> events() {
    return all;
  }

  /** The events that count. */
  public List<StoredJobEvent> standing() {
    return standing;
  }

  /** The position of the newest event. */
  public long position() {
    return all.get(all.size() - 1).position();
  }

  /** The newest event after a position that changed where the job stands. */
  public Optional<StoredJobEvent> movedSince(long position) {
    return all.stream()
        .filter(kept -> kept.position() > position && kept.event().moves())
        .reduce((first, second) -> second);
  }

  /** When a cup gelled, where that was seen. */
  public Optional<StoredJobEvent> gelOf(String mix) {
    return standing.stream()
        .filter(kept -> kept.event() instanceof JobEvent.Gelled gelled && gelled.mix().equals(mix))
        .findFirst();
  }

  /** When a cup gelled; empty when that was not seen or nobody knows when. */
  public Optional<Instant> gelTime(String mix) {
    return gelOf(mix)
        .filter(gel -> !(gel.event() instanceof JobEvent.Gelled seen && seen.timeUnknown()))
        .map(StoredJobEvent::time);
  }

  /** What was wrong with it, as far as somebody has said so, each once. */
  public List<Symptom> symptoms() {
    return standing.stream().map(StoredJobEvent::event).flatMap(Job::symptom).distinct().toList();
  }

  private static Stream<Symptom> symptom(JobEvent event) {
    if (event instanceof JobEvent.Seen seen) {
      return Stream.of(seen.symptom());
    }
    return event instanceof JobEvent.Done done
        ? done.cameOut().flatMap(CameOut::symptom).stream()
        : Stream.of();
  }

  /** A mix of this job that counts. */
  public Optional<StoredJobEvent> mix(String event) {
    return standing.stream()
        .filter(kept -> kept.id().equals(event) && kept.event() instanceof JobEvent.Mixed)
        .findFirst();
  }

  /** Why an event does not fit now, with what to do instead; empty when it fits. */
  public Optional<String> refusal(JobEvent event) {
    return new JobRules(this).refusal(event);
  }
}
