package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
import java.time.Duration;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import org.layroom.dashboard.answer.job.JobAnswers;
import org.layroom.dashboard.job.JobBook;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.job.JobJson;
import org.layroom.device.telemetry.RoomName;

/** Jobs over HTTP: what is on its way, the log, one job, and the taps that move it. */
final class JobApi {
  /** Fields of a post that say when and by whom, not what. */
  private static final Set<String> ENVELOPE = Set.of("id", "seen", "secondsAgo");

  private static final Pattern ID = Pattern.compile("[A-Za-z0-9-]{8,64}");
  private static final int LONGEST_AGO_SECONDS = 24 * 3600;
  private static final int LONGEST_SEARCH = 200;

  private final Api api;
  private final JobAnswers jobs;

  JobApi(Api api, JobAnswers jobs) {
    this.api = api;
    this.jobs = jobs;
  }

  JsonNode open(HttpServerExchange exchange) {
    return jobs.open(api.roomName(exchange));
  }

  JsonNode log(HttpServerExchange exchange) {
    String search = Exchanges.parameter(exchange, "search").orElse("");
    if (search.length() > LONGEST_SEARCH) {
      throw Problem.badField("search", search.length() + " characters", "at most 200 characters");
    }
    return jobs.log(api.roomName(exchange), search);
  }

  JsonNode job(HttpServerExchange exchange) {
    String id = id(exchange);
    return jobs.job(api.roomName(exchange), id)
        .orElseThrow(() -> Problem.of(404, "There is no part " + id + " in this room."));
  }

  Exchanges.Reply post(HttpServerExchange exchange, ObjectNode body) {
    RoomName room = api.roomName(exchange);
    String jobId = id(exchange);
    JobJson.Parsed parsed = JobJson.read(body, ENVELOPE);
    if (parsed.event().isEmpty()) {
      throw Problem.badFields(parsed.refused());
    }
    JobBook.Post post =
        new JobBook.Post(text(body, "id"), seen(body), ago(body), known(parsed.event().get()));
    JobBook.Outcome outcome = jobs.book().post(room, jobId, post);
    if (outcome instanceof JobBook.Outcome.Taken taken) {
      return new Exchanges.Reply(201, jobs.picture(room, taken.job()));
    }
    if (outcome instanceof JobBook.Outcome.Known known) {
      return Exchanges.Reply.ok(jobs.picture(room, known.job()));
    }
    JobBook.Outcome.Refused refused = (JobBook.Outcome.Refused) outcome;
    throw Problem.of(409, refused.words())
        .with("job", refused.job().map(job -> jobs.picture(room, job)));
  }

  /** A cup names a material that is on the shelf. */
  private JobEvent known(JobEvent event) {
    if (event instanceof JobEvent.Mixed mixed) {
      api.materialNamed(mixed.cup().material());
    }
    return event;
  }

  private static String id(HttpServerExchange exchange) {
    String id = Exchanges.parameter(exchange, "job").orElse("");
    if (!ID.matcher(id).matches()) {
      throw Problem.badField("job", id, "8 to 64 letters, digits or dashes, made by the page");
    }
    return id;
  }

  private static String text(ObjectNode body, String field) {
    String id = body.path(field).asText("");
    if (!ID.matcher(id).matches()) {
      throw Problem.badField(field, id, "8 to 64 letters, digits or dashes, made by the page");
    }
    return id;
  }

  private static Optional<Long> seen(ObjectNode body) {
    JsonNode seen = body.path("seen");
    if (seen.isMissingNode()) {
      return Optional.empty();
    }
    if (!seen.isIntegralNumber() || !seen.canConvertToLong() || seen.longValue() < 0) {
      throw Problem.badField("seen", seen.toString(), "the position of the job as it was shown");
    }
    return Optional.of(seen.longValue());
  }

  private static Duration ago(ObjectNode body) {
    JsonNode ago = body.path("secondsAgo");
    if (ago.isMissingNode()) {
      return Duration.ZERO;
    }
    if (!ago.isNumber() || !(ago.doubleValue() >= 0 && ago.doubleValue() <= LONGEST_AGO_SECONDS)) {
      throw Problem.badField("secondsAgo", ago.toString(), "0 to 86400 seconds");
    }
    return Duration.ofMillis(Math.round(ago.doubleValue() * 1000));
  }
}
