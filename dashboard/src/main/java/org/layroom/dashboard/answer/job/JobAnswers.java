package org.layroom.dashboard.answer.job;

import com.fasterxml.jackson.databind.SequenceWriter;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.Writer;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import org.layroom.dashboard.answer.RoomAnswers;
import org.layroom.dashboard.job.Job;
import org.layroom.dashboard.job.JobBook;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.job.StoredJobEvent;
import org.layroom.dashboard.job.Symptom;
import org.layroom.dashboard.material.GelTests;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.cure.Stage;
import org.layroom.predictor.hardening.PartOutcome;

/** Everything about jobs that a page can ask or tell. Safe for any number of threads. */
public final class JobAnswers {
  private static final JsonMapper JSON = JsonMapper.builder().build();

  /** A part gives off styrene for days (this project's own choice). */
  private static final Duration GIVES_OFF_VAPOR = Duration.ofDays(3);

  private final DashboardCore core;
  private final RoomAnswers answers;
  private final GelTests tests;
  private final Supplier<Instant> now;
  private final JobOutcomes outcomes;
  private final GelTaps gels;
  private final JobClocks clocks;
  private final StageWindows windows;
  private final JobView picture;
  private final JobBook book;
  private final PredictedStyrene styrene;

  /**
   * Reads the jobs from the store.
   *
   * @param now the room's time
   */
  public JobAnswers(
      DashboardCore core,
      RoomAnswers answers,
      GelTests tests,
      MoldTemperature molds,
      Supplier<Instant> now) {
    this.core = core;
    this.answers = answers;
    this.tests = tests;
    this.now = now;
    this.gels = new GelTaps(answers.shelf(), tests);
    this.outcomes = new JobOutcomes(answers.shelf(), tests, molds);
    this.clocks = new JobClocks(answers.shelf(), tests, molds, this::outcomes);
    this.styrene = new PredictedStyrene(clocks, answers.shelf());
    this.windows = new StageWindows(clocks, answers.place().zone());
    this.picture = new JobView(clocks, windows, answers.shelf(), gels);
    this.book = new JobBook(core.store().events(), now, new RoomAtTap(core, answers, clocks));
    outcomes.follow(book);
    book.addListener(taken -> learn(taken.job(), taken.event()));
    book.all().forEach(job -> job.events().forEach(event -> learn(job, event)));
  }

  /** What became of this shop's parts. */
  public List<PartOutcome> outcomes() {
    return outcomes.all();
  }

  public JobBook book() {
    return book;
  }

  /** Forgets all clocks worked out, because a gel test or a material has changed. */
  public void canChanged() {
    outcomes.forget();
    clocks.forget();
  }

  /** The jobs that are on their way, with what is to be heard of them. */
  public ObjectNode open(RoomName room) {
    Instant at = now.get();
    ObjectNode json = about(room, at);
    ArrayNode jobs = json.putArray("jobs");
    book.open(room).forEach(job -> jobs.add(picture.brief(room, job, at)));
    notices(json, room, at);
    return json;
  }

  /** What is to be heard of the jobs of a room, alone. */
  public ObjectNode news(RoomName room) {
    Instant at = now.get();
    ObjectNode json = about(room, at);
    notices(json, room, at);
    return json;
  }

  /** The windows of the parts on their way that are still to come, or open. */
  public List<PlannedWindow> planned(RoomName room) {
    Instant at = now.get();
    return book.open(room).stream()
        .flatMap(job -> windows.planned(room, job, at).stream())
        .toList();
  }

  private static ObjectNode about(RoomName room, Instant at) {
    return JsonNodeFactory.instance
        .objectNode()
        .put("room", room.value())
        .put("time", at.toString());
  }

  private void notices(ObjectNode json, RoomName room, Instant at) {
    ArrayNode notices = json.putArray("notices");
    for (Job job : book.open(room)) {
      for (JobNotice notice : windows.notices(room, job, at)) {
        notices
            .addObject()
            .put("id", notice.id())
            .put("job", notice.job())
            .put("part", notice.part())
            .put("phase", notice.phase().id())
            .put("words", notice.words())
            .put("since", notice.since().toString());
      }
    }
  }

  /** Until when vapor is expected from the jobs on their way; empty when there is none. */
  public Optional<Instant> vaporUntil(RoomName room) {
    Instant at = now.get();
    return book.open(room).stream()
        .flatMap(
            job ->
                job.steps().stream()
                    .flatMap(step -> step.mixes().stream())
                    .map(mix -> clocks.of(room, job, mix, at)))
        .flatMap(Optional::stream)
        .map(clock -> clock.times(Stage.FILM_GEL))
        .flatMap(Optional::stream)
        .map(JobClocks.Times::latest)
        .flatMap(Optional::stream)
        .max(Instant::compareTo)
        .filter(until -> until.isAfter(at));
  }

  /**
   * The part that spoils a clean-air reading, because it was laid up within three days and nobody
   * has said that it left the room; empty when there is none.
   */
  public Optional<String> freshPart(RoomName room) {
    Instant oldest = now.get().minus(GIVES_OFF_VAPOR);
    return book.jobs(room).stream()
        .filter(
            job ->
                job.standing().stream().noneMatch(kept -> kept.event() instanceof JobEvent.Removed))
        .filter(
            job ->
                job.standing().stream()
                    .anyMatch(
                        kept ->
                            kept.event() instanceof JobEvent.Mixed && kept.time().isAfter(oldest)))
        .map(Job::part)
        .findFirst();
  }

  /** The styrene that is predicted for a room now, ppm; empty where nothing gives it off. */
  public OptionalDouble predictedPpm(RoomName room) {
    return styrene.ppm(
        room,
        book.open(room),
        new PredictedStyrene.Air(
            answers.airSettings(room), answers.measuredAirChanges(room), answers.airC(room)),
        now.get());
  }

  /**
   * All jobs, the newest first.
   *
   * @param search words that must be in part, molds, notes or materials; empty for all
   */
  public ObjectNode log(RoomName room, String search) {
    Instant at = now.get();
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("room", room.value());
    ArrayNode jobs = json.putArray("jobs");
    for (Job job : book.jobs(room)) {
      if (matches(job, search)) {
        jobs.add(picture.brief(room, job, at));
      }
    }
    return json;
  }

  /**
   * All cups of all parts of a room as CSV.
   *
   * @throws IOException when it cannot be written
   */
  public void csv(RoomName room, Appendable out) throws IOException {
    JobsCsv.write(book.jobs(room), out);
  }

  /**
   * All parts of a room with everything that {@link #job} tells of each, as JSON, one in memory at
   * a time.
   *
   * @throws IOException when it cannot be written
   */
  public void json(RoomName room, Writer out) throws IOException {
    SequenceWriter jobs = JSON.writer().writeValuesAsArray(out);
    for (Job job : book.jobs(room)) {
      jobs.write(whole(room, job));
    }
    jobs.close();
  }

  private static boolean matches(Job job, String search) {
    StringBuilder all = new StringBuilder(job.part()).append(' ').append(job.molds());
    for (StoredJobEvent kept : job.standing()) {
      if (kept.event() instanceof JobEvent.Noted noted) {
        all.append(' ').append(noted.words());
      } else if (kept.event() instanceof JobEvent.Mixed mixed) {
        all.append(' ').append(mixed.cup().material());
      } else if (kept.event() instanceof JobEvent.Seen seen) {
        all.append(' ').append(seen.symptom().words());
      }
    }
    String text = all.toString().toLowerCase(Locale.ROOT);
    return List.of(search.toLowerCase(Locale.ROOT).split("\\s+")).stream().allMatch(text::contains);
  }

  /** One job with all its events, the room during it, and what may have gone wrong. */
  public Optional<ObjectNode> job(RoomName room, String id) {
    return book.job(room, id).map(job -> whole(room, job));
  }

  private ObjectNode whole(RoomName room, Job job) {
    Instant at = now.get();
    ObjectNode json = picture.whole(room, job, at);
    JobRecord record = new JobRecord(core, answers.shelf(), tests, this::outcomes, room, job, at);
    record.addTo(json);
    ArrayNode why = json.putArray("why");
    job.symptoms().forEach(symptom -> why(why.addObject(), record, symptom));
    return json;
  }

  private static void why(ObjectNode json, JobRecord record, Symptom symptom) {
    json.put("symptom", symptom.id()).put("words", symptom.words());
    SymptomCauses.addTo(json.putArray("possibilities"), SymptomCauses.of(record, symptom));
  }

  /** A job as it is now, in the form of {@link #job}, for the answer to a post. */
  public ObjectNode picture(RoomName room, Job job) {
    return picture.whole(room, job, now.get());
  }

  private void learn(Job job, StoredJobEvent event) {
    if (JobOutcomes.tells(event.event())) {
      clocks.forget();
    }
    if (event.event() instanceof JobEvent.Gelled gelled) {
      gels.learn(job, event, gelled);
      clocks.forget();
    } else if (event.event() instanceof JobEvent.Undone undone) {
      gels.unlearn(job, undone.event(), event.time());
      clocks.forget();
    }
  }
}
