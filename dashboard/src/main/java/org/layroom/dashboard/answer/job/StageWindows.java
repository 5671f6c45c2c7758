package org.layroom.dashboard.answer.job;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.answer.ClockTimes;
import org.layroom.dashboard.answer.job.JobClocks.Clock;
import org.layroom.dashboard.answer.job.JobClocks.Times;
import org.layroom.dashboard.job.Job;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.job.Step;
import org.layroom.dashboard.job.StepKind;
import org.layroom.dashboard.job.StoredJobEvent;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.cure.OverdueGel;
import org.layroom.predictor.cure.Stage;
import org.layroom.predictor.cure.StageTime;

/** What comes next in a job, and which of its windows open and close. */
final class StageWindows {
  /** A window is told of this long before it opens or closes. */
  static final Duration AHEAD = Duration.ofMinutes(10);

  private static final String FINGER_TEST = "Finger test first: tacky, but nothing comes off.";

  private static final Duration WORKING_AHEAD = Duration.ofMinutes(5);
  private static final Duration SHORTEST_SHOWN = Duration.ofMinutes(15);
  private static final Duration A_DAY = Duration.ofDays(1);
  private static final Duration TWO_DAYS = Duration.ofDays(2);

  /**
   * The next step and when it may begin.
   *
   * @param step id of the step
   * @param words what to do and what it waits for
   * @param from earliest, likely and latest; empty when nothing is waited for
   * @param until when a window closes
   */
  record Next(String step, String words, Optional<Times> from, Optional<Times> until) {}

  private final JobClocks clocks;
  private final ZoneId zone;

  StageWindows(JobClocks clocks, ZoneId zone) {
    this.clocks = clocks;
    this.zone = zone;
  }

  /** What comes next; empty when the job is over. */
  Optional<Next> next(RoomName room, Job job, Instant now) {
    return job.open() ? job.current().map(step -> next(room, job, step, now)) : Optional.empty();
  }

  private Next next(RoomName room, Job job, Step step, Instant now) {
    StepKind kind = step.planned().kind();
    return switch (kind) {
      case WAX_COAT, RELEASE_MIST, PVA_COAT -> coat(step, kind.waits().orElseThrow());
      case GEL_COAT, LAYER, FINISH_COAT, JOIN -> mixed(room, job, step, now);
      case TRIM -> trim(room, job, step, now);
      case DEMOLD -> demold(room, job, step, now);
    };
  }

  private static Next coat(Step step, StepKind.Wait wait) {
    if (step.applied().isEmpty()) {
      return plain(step, "Apply: " + step.planned().name() + ".");
    }
    Instant from = step.applied().get().plus(Duration.ofMinutes(wait.earliestMinutes()));
    Instant latest = step.applied().get().plus(Duration.ofMinutes(wait.latestMinutes()));
    return new Next(
        step.planned().id(),
        "Let it dry. " + wait.words(),
        Optional.of(new Times(Optional.of(from), Optional.of(latest), Optional.of(latest))),
        Optional.empty());
  }

  private static Next plain(Step step, String words) {
    return new Next(step.planned().id(), words, Optional.empty(), Optional.empty());
  }

  private Next mixed(RoomName room, Job job, Step step, Instant now) {
    if (step.running()) {
      Optional<Times> stop =
          clocks.newest(room, job, step, now).flatMap(c -> c.times(Stage.STOP_WETTING_OUT));
      return new Next(
          step.planned().id(),
          "Apply it, then tap \"Laid up\". The working time ends:",
          stop,
          Optional.empty());
    }
    Optional<Step> before = lastMixed(job);
    if (before.isEmpty()) {
      return plain(step, "Mix when the room is ready: " + step.planned().name() + ".");
    }
    if (before.get().planned().kind() != StepKind.GEL_COAT) {
      return plain(
          step,
          "Next layer: wet on wet, or once it has set. Unwaxed resin bonds for 24 to 48 h;"
              + " after that, sand it first.");
    }
    return new Next(
        step.planned().id(),
        FINGER_TEST,
        clocks.newest(room, job, before.get(), now).flatMap(c -> c.times(Stage.READY_TO_LAMINATE)),
        Optional.empty());
  }

  private Next trim(RoomName room, Job job, Step step, Instant now) {
    Optional<Clock> clock = lastLayer(room, job, now);
    Optional<StageTime> stage = clock.flatMap(c -> c.stage(Stage.GREEN_TRIM));
    return new Next(
        step.planned().id(),
        "Trim while it is firm and rubbery. Have the knife ready.",
        clock.flatMap(c -> c.times(Stage.GREEN_TRIM)),
        clock.flatMap(
            c -> stage.flatMap(StageTime::untilMinutes).map(u -> Times.of(c.mixed(), u))));
  }

  private Next demold(RoomName room, Job job, Step step, Instant now) {
    return new Next(
        step.planned().id(), StepKind.HAND_CHECK, demoldTimes(room, job, now), Optional.empty());
  }

  /** The demold time of the cup that is hard last. */
  Optional<Times> demoldTimes(RoomName room, Job job, Instant now) {
    List<Times> all = new ArrayList<>();
    for (StoredJobEvent mix : mixes(job)) {
      clocks.of(room, job, mix, now).flatMap(c -> c.times(Stage.DEMOLD)).ifPresent(all::add);
    }
    return all.stream().max(Comparator.comparing(times -> times.likely().orElse(Instant.MAX)));
  }

  private static List<StoredJobEvent> mixes(Job job) {
    return job.steps().stream().flatMap(step -> step.mixes().stream()).toList();
  }

  /** The windows of a part that are still to come, or open. */
  List<PlannedWindow> planned(RoomName room, Job job, Instant now) {
    List<PlannedWindow> planned = new ArrayList<>();
    if (!job.open()) {
      return planned;
    }
    for (Step step : job.steps()) {
      if (step.over()) {
        continue;
      }
      Next next = next(room, job, step, now);
      switch (step.planned().kind()) {
        case WAX_COAT, RELEASE_MIST, PVA_COAT ->
            planned(planned, job, next, capital(step.planned().name()) + " is dry");
        case TRIM -> planned(planned, job, next, "Trim with a knife");
        case DEMOLD -> planned(planned, job, next, "Demold check");
        case GEL_COAT, LAYER, FINISH_COAT, JOIN -> {
          if (!step.running() && job.current().filter(step::equals).isPresent()) {
            planned(planned, job, next, "Laminate: " + step.planned().name());
          }
        }
      }
    }
    return planned;
  }

  private static void planned(List<PlannedWindow> planned, Job job, Next next, String title) {
    Optional<Instant> from = next.from().flatMap(Times::earliest);
    Optional<Instant> likely = next.from().flatMap(Times::likely);
    Optional<Instant> until =
        next.until().flatMap(Times::latest).or(() -> next.from().flatMap(Times::latest));
    if (from.isEmpty()) {
      return;
    }
    Instant end =
        until
            .or(() -> likely)
            .filter(at -> at.isAfter(from.get().plus(SHORTEST_SHOWN)))
            .orElseGet(() -> from.get().plus(SHORTEST_SHOWN));
    planned.add(
        new PlannedWindow(
            job.id() + "-" + next.step(),
            job.part(),
            title,
            from.get(),
            end,
            likely,
            next.words()));
  }

  private static Optional<Step> lastMixed(Job job) {
    return job.steps().stream()
        .filter(step -> !step.mixes().isEmpty())
        .reduce((first, second) -> second);
  }

  private Optional<Clock> lastLayer(RoomName room, Job job, Instant now) {
    return job.steps().stream()
        .filter(step -> step.planned().kind() == StepKind.LAYER && !step.mixes().isEmpty())
        .reduce((first, second) -> second)
        .flatMap(step -> clocks.newest(room, job, step, now));
  }

  /** Everything about a job that a person should hear now. */
  List<JobNotice> notices(RoomName room, Job job, Instant now) {
    List<JobNotice> notices = new ArrayList<>();
    if (!job.open()) {
      return notices;
    }
    Heard heard = new Heard(job, now, notices);
    for (Step step : job.steps()) {
      coat(heard, step);
      working(heard, room, step);
    }
    laminate(heard, room);
    trim(heard, room);
    demold(heard, room);
    return notices;
  }

  /** Gathers what is to be heard of one job. */
  private static final class Heard {
    private final Job job;
    private final Instant now;
    private final List<JobNotice> notices;

    Heard(Job job, Instant now, List<JobNotice> notices) {
      this.job = job;
      this.now = now;
      this.notices = notices;
    }

    boolean from(Optional<Instant> time) {
      return time.filter(at -> !now.isBefore(at)).isPresent();
    }

    boolean within(Optional<Instant> time, Duration ahead) {
      return from(time.map(at -> at.minus(ahead)));
    }

    void say(String about, JobNotice.Phase phase, Optional<Instant> since, String words) {
      String id = job.id() + ":" + about + ":" + phase.id();
      notices.add(new JobNotice(id, job.id(), job.part(), phase, words, since.orElse(now)));
    }
  }

  private void coat(Heard heard, Step step) {
    if (step.over() || step.applied().isEmpty()) {
      return;
    }
    step.planned()
        .kind()
        .waits()
        .ifPresent(
            wait -> {
              Optional<Instant> from =
                  step.applied().map(at -> at.plus(Duration.ofMinutes(wait.earliestMinutes())));
              if (heard.from(from)) {
                heard.say(
                    step.planned().id(),
                    JobNotice.Phase.OPEN,
                    from,
                    capital(step.planned().name())
                        + " applied at "
                        + ClockTimes.at(step.applied().orElseThrow(), heard.now, zone)
                        + ". "
                        + wait.words());
              }
            });
  }

  private void working(Heard heard, RoomName room, Step step) {
    for (StoredJobEvent mix : step.mixes()) {
      Optional<Clock> clock = clocks.of(room, heard.job, mix, heard.now);
      if (clock.isEmpty() || heard.job.gelOf(mix.id()).isPresent()) {
        continue;
      }
      Optional<Times> stop = clock.get().times(Stage.STOP_WETTING_OUT);
      Optional<Times> gel = clock.get().times(Stage.GEL);
      boolean gelled = heard.from(gel.flatMap(Times::latest));
      Optional<Instant> likely = stop.flatMap(Times::likely);
      if (!step.over() && !gelled && heard.from(likely)) {
        heard.say(
            mix.id(),
            JobNotice.Phase.CLOSING,
            likely,
            "Stop: the working time of this cup is over. Leave the cup.");
      } else if (!step.over() && !gelled && heard.within(likely, WORKING_AHEAD)) {
        heard.say(
            mix.id(),
            JobNotice.Phase.SOON,
            likely.map(at -> at.minus(WORKING_AHEAD)),
            "Working time of this cup ends at about " + clock(likely.orElseThrow(), heard) + ".");
      }
      overdue(heard, mix, clock.get());
    }
  }

  private static void overdue(Heard heard, StoredJobEvent mix, Clock clock) {
    double elapsed = Duration.between(mix.time(), heard.now).toMillis() / 60_000.0;
    boolean newest = mixes(heard.job).stream().allMatch(m -> !m.time().isAfter(mix.time()));
    if (!newest || elapsed > TWO_DAYS.toMinutes()) {
      return;
    }
    clock
        .stage(Stage.FILM_GEL)
        .flatMap(gel -> OverdueGel.advice(clock.inputs().kind(), gel, elapsed))
        .ifPresent(
            advice ->
                heard.say(
                    mix.id() + ":gel",
                    JobNotice.Phase.MIND,
                    clock.times(Stage.FILM_GEL).flatMap(Times::latest),
                    "It should have set by now. If it is still wet: " + advice.reason()));
  }

  private void laminate(Heard heard, RoomName room) {
    Optional<Step> last = lastMixed(heard.job);
    Optional<Step> coat = last.filter(step -> step.planned().kind() == StepKind.GEL_COAT);
    boolean more =
        heard.job.steps().stream().anyMatch(s -> !s.over() && s.planned().kind().isMixed());
    if (coat.isEmpty() || !more) {
      return;
    }
    Optional<Clock> clock = clocks.newest(room, heard.job, coat.get(), heard.now);
    Optional<Times> ready = clock.flatMap(c -> c.times(Stage.READY_TO_LAMINATE));
    Optional<Instant> mixed = clock.map(Clock::mixed);
    Optional<Instant> likely = ready.flatMap(Times::likely);
    String about = coat.get().planned().id() + ":laminate";
    if (heard.from(mixed.map(at -> at.plus(TWO_DAYS)))) {
      heard.say(
          about,
          JobNotice.Phase.PAST,
          mixed.map(at -> at.plus(TWO_DAYS)),
          "The gel coat is over 48 h old. Scuff it lightly, check for lifting, then laminate.");
    } else if (heard.from(mixed.map(at -> at.plus(A_DAY)))) {
      heard.say(
          about,
          JobNotice.Phase.CLOSING,
          mixed.map(at -> at.plus(A_DAY)),
          "The gel coat is over 24 h old. Keep it covered and clean, check for tack and for"
              + " lifting at the corners, and laminate before 48 h.");
    } else if (heard.from(likely)) {
      heard.say(
          about, JobNotice.Phase.OPEN, likely, "Gel coat likely ready to laminate. " + FINGER_TEST);
    } else if (heard.within(likely, AHEAD)) {
      heard.say(
          about,
          JobNotice.Phase.SOON,
          likely.map(at -> at.minus(AHEAD)),
          "Gel coat likely ready to laminate at about " + clock(likely.orElseThrow(), heard) + ".");
    }
  }

  private void trim(Heard heard, RoomName room) {
    Optional<Step> step =
        heard.job.steps().stream()
            .filter(s -> s.planned().kind() == StepKind.TRIM && !s.over())
            .findFirst();
    Optional<Clock> clock = lastLayer(room, heard.job, heard.now);
    if (step.isEmpty() || clock.isEmpty()) {
      return;
    }
    boolean layersLeft =
        heard.job.steps().stream()
            .anyMatch(
                s -> s.planned().kind() == StepKind.LAYER && s.mixes().isEmpty() && !s.over());
    if (layersLeft) {
      return;
    }
    Next window = trim(room, heard.job, step.get(), heard.now);
    Optional<Instant> opens = window.from().flatMap(Times::likely);
    Optional<Instant> mayOpen = window.from().flatMap(Times::earliest);
    Optional<Instant> mayClose = window.until().flatMap(Times::earliest);
    Optional<Instant> closed = window.until().flatMap(Times::latest);
    String about = step.get().planned().id() + ":trim";
    if (heard.from(closed)) {
      heard.say(
          about,
          JobNotice.Phase.PAST,
          closed,
          "Too late to trim with a knife. Once it is hard, trim with a saw or disc and wear a"
              + " respirator: the dust is harmful.");
    } else if (heard.within(mayClose, AHEAD)) {
      heard.say(
          about,
          JobNotice.Phase.CLOSING,
          mayClose.map(at -> at.minus(AHEAD)),
          "Trim now. The edge may be too hard for a knife from "
              + clock(mayClose.orElseThrow(), heard)
              + " on.");
    } else if (heard.from(opens)) {
      heard.say(
          about,
          JobNotice.Phase.OPEN,
          opens,
          "Likely firm and rubbery: trim the edge with a knife.");
    } else if (heard.within(mayOpen, AHEAD)) {
      heard.say(
          about,
          JobNotice.Phase.SOON,
          mayOpen.map(at -> at.minus(AHEAD)),
          "Green trim likely opens at about "
              + opens.map(time -> clock(time, heard)).orElse("soon")
              + ", at the earliest "
              + clock(mayOpen.orElseThrow(), heard)
              + ". Have the knife ready.");
    }
  }

  private void demold(Heard heard, RoomName room) {
    Optional<Step> current = heard.job.current();
    if (current.filter(s -> s.planned().kind() == StepKind.DEMOLD).isEmpty()) {
      return;
    }
    Optional<Times> times = demoldTimes(room, heard.job, heard.now);
    Optional<Instant> likely = times.flatMap(Times::likely);
    Optional<Instant> earliest = times.flatMap(Times::earliest);
    if (heard.from(likely)) {
      heard.say(
          "demold",
          JobNotice.Phase.OPEN,
          likely,
          "Likely hard enough to demold. " + StepKind.HAND_CHECK);
    } else if (heard.from(earliest)) {
      heard.say(
          "demold",
          JobNotice.Phase.SOON,
          earliest,
          "May be hard enough to leave the mold"
              + likely.map(at -> ", likely at about " + clock(at, heard)).orElse("")
              + ". Test with a fingernail on the flange and note what you find: an early test"
              + " teaches most.");
    }
  }

  private String clock(Instant time, Heard heard) {
    return ClockTimes.about(time, heard.now, zone);
  }

  private static String capital(String words) {
    return Character.toUpperCase(words.charAt(0)) + words.substring(1);
  }

  /** The events of a job that mixed a cup, with what is in it. */
  static JobEvent.Cup cup(StoredJobEvent mix) {
    if (mix.event() instanceof JobEvent.Mixed mixed) {
      return mixed.cup();
    }
    throw new IllegalArgumentException("event " + mix.id() + " mixed no cup");
  }
}
