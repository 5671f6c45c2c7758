package org.layroom.dashboard.web;

import com.code_intelligence.jazzer.junit.FuzzTest;
import com.code_intelligence.jazzer.mutation.annotation.NotNull;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.answer.AirAnswers;
import org.layroom.dashboard.answer.MaterialAnswers;
import org.layroom.dashboard.answer.OffsetAnswers;
import org.layroom.dashboard.answer.RoomAnswers;
import org.layroom.dashboard.answer.job.JobAnswers;
import org.layroom.dashboard.answer.job.MeasuredMold;
import org.layroom.dashboard.forecast.LearnedRooms;
import org.layroom.dashboard.material.GelTests;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.dashboard.room.CoreSettings;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.testing.HandPace;
import org.layroom.dashboard.warning.AirWarnings;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.StrictJson;

/**
 * Any JSON object posted to what takes one, past the server itself and into a dashboard with a
 * store of its own: an answer, or a refusal that says why and is the sender's fault.
 */
class PostedBodyFuzz {
  private static final JsonMapper STRICT = StrictJson.mapper(16);

  /** A broker that is never called: the link's clock stands still. */
  private static final URI NOBODY = URI.create("tcp://127.0.0.1:1");

  private static final List<Exchanges.Accepting> PLACES = places();

  private static List<Exchanges.Accepting> places() {
    try {
      Path data = Files.createTempDirectory("layroom-posted");
      Path materials = Files.createDirectories(data.resolve("materials"));
      HandPace pace = new HandPace(Instant.parse("2026-03-02T18:00:00Z"));
      DashboardCore core = DashboardCore.start(CoreSettings.outside(data, NOBODY), pace, pace);
      MaterialShelf shelf = MaterialShelf.withFolder(materials);
      GelTests tests = new GelTests(core.store().events(), pace::now);
      LearnedRooms learned = LearnedRooms.start(core, pace, Optional.empty(), ZoneOffset.UTC);
      AirWarnings warnings = AirWarnings.start(core, pace, 1);
      AirAnswers air = new AirAnswers(core, warnings, pace::now);
      RoomAnswers rooms =
          new RoomAnswers(
              core,
              shelf,
              tests,
              air,
              learned,
              new RoomAnswers.Place(RoomName.of("shop"), "gp-resin", ZoneOffset.UTC, 1, false));
      JobAnswers jobs =
          new JobAnswers(core, rooms, tests, new MeasuredMold(core, learned::mold), pace::now);
      MaterialAnswers cans = new MaterialAnswers(shelf, tests, pace::now, jobs::canChanged);
      return of(
          new Api(rooms),
          jobs,
          cans,
          air,
          new OffsetAnswers(core, warnings, pace::now, ZoneOffset.UTC),
          shelf);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static List<Exchanges.Accepting> of(
      Api api,
      JobAnswers jobs,
      MaterialAnswers cans,
      AirAnswers air,
      OffsetAnswers offsets,
      MaterialShelf shelf) {
    AirApi airs = new AirApi(api, air);
    MaterialApi materials = new MaterialApi(api, cans, shelf);
    return List.of(
        airs::acknowledge,
        airs::decide,
        airs::cleanAir,
        airs::airing,
        new OffsetApi(api, offsets)::correct,
        new JobApi(api, jobs)::post,
        materials::change,
        materials::keep,
        new BumpTestApi(api, air.bumpTests())::tell);
  }

  /** The first byte says where it is posted, the others are the body. */
  @FuzzTest
  void bodies(byte @NotNull [] bytes) {
    if (bytes.length == 0) {
      return;
    }
    JsonNode posted;
    try {
      posted = STRICT.readTree(bytes, 1, bytes.length - 1);
    } catch (IOException e) {
      return; // refused before any of these is asked
    }
    if (!(posted instanceof ObjectNode object)) {
      return;
    }
    HttpServerExchange exchange = new HttpServerExchange(null);
    exchange.addQueryParam("room", "shop");
    exchange.addQueryParam("job", "job-00000001");
    try {
      Exchanges.Accepting asked = PLACES.get(Math.floorMod(bytes[0], PLACES.size()));
      Exchanges.Reply reply = asked.accept(exchange, object);
      if (reply.status() >= 300 || Exchanges.bytes(reply.body()).length == 0) {
        throw new AssertionError("answered with " + reply);
      }
    } catch (Problem problem) {
      if (problem.status() >= 500 || problem.json().path("title").asText().isBlank()) {
        throw new AssertionError("refused with " + problem.status() + ": " + problem.json());
      }
    }
  }
}
