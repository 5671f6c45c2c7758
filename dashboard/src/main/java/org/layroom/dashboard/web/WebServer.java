package org.layroom.dashboard.web;

import io.undertow.Handlers;
import io.undertow.Undertow;
import io.undertow.UndertowOptions;
import io.undertow.predicate.Predicates;
import io.undertow.server.HttpHandler;
import io.undertow.server.handlers.PathHandler;
import io.undertow.server.handlers.SetHeaderHandler;
import io.undertow.server.handlers.encoding.ContentEncodingRepository;
import io.undertow.server.handlers.encoding.EncodingHandler;
import io.undertow.server.handlers.encoding.GzipEncodingProvider;
import io.undertow.server.handlers.sse.ServerSentEventConnection;
import java.io.IOException;
import java.net.BindException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;
import org.layroom.dashboard.answer.AirAnswers;
import org.layroom.dashboard.answer.CanAnswers;
import org.layroom.dashboard.answer.DeviceAnswers;
import org.layroom.dashboard.answer.OffsetAnswers;
import org.layroom.dashboard.answer.RoomAnswers;
import org.layroom.dashboard.answer.StoreAnswers;
import org.layroom.dashboard.answer.job.JobAnswers;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.RoomName;

/** The page, its API and its live events on one loopback port. */
public final class WebServer implements AutoCloseable {
  private static final Duration PICTURE_EVERY = Duration.ofSeconds(1);
  private static final Duration ALIVE_EVERY = Duration.ofSeconds(5);
  private static final int LARGEST_REQUEST_BYTES = 64 * 1024;
  private static final int REQUEST_MILLIS = 20_000;

  private static final String POLICY =
      "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self';"
          + " base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

  /** Everything that the page asks. */
  public record Answering(
      RoomAnswers rooms,
      JobAnswers jobs,
      CanAnswers cans,
      AirAnswers air,
      OffsetAnswers offsets,
      StoreAnswers store,
      DeviceAnswers devices) {}

  private final Map<String, HttpHandler> places = new LinkedHashMap<>();
  private final Undertow server;
  private final EventStream events = new EventStream();
  private final Pace.Scheduled refreshing;
  private final Pace.Scheduled staying;
  private final int port;

  private WebServer(Answering answers, Pace transport, String address, int port) {
    this.server =
        Undertow.builder()
            .addHttpListener(port, address)
            .setIoThreads(2)
            .setWorkerThreads(8)
            .setServerOption(UndertowOptions.MAX_ENTITY_SIZE, (long) LARGEST_REQUEST_BYTES)
            .setServerOption(UndertowOptions.MAX_HEADER_SIZE, 16 * 1024)
            .setServerOption(UndertowOptions.MAX_PARAMETERS, 32)
            .setServerOption(UndertowOptions.REQUEST_PARSE_TIMEOUT, REQUEST_MILLIS)
            .setServerOption(UndertowOptions.NO_REQUEST_TIMEOUT, 60_000)
            .setHandler(secured(new LoopbackOnly(paths(answers))))
            .build();
    server.start();
    this.port = ((InetSocketAddress) server.getListenerInfo().get(0).getAddress()).getPort();
    this.refreshing = transport.every(PICTURE_EVERY, events::refresh);
    this.staying = transport.every(ALIVE_EVERY, events::alive);
  }

  /**
   * Starts to listen.
   *
   * @param transport real time, which live events go by
   * @param address a loopback address
   * @param port 0 takes a free one
   * @throws IOException when it cannot listen there, with what to change
   */
  public static WebServer start(Answering answers, Pace transport, String address, int port)
      throws IOException {
    if (!InetAddress.getByName(address).isLoopbackAddress()) {
      throw new IOException(
          "http.address " + address + " can be reached from outside; use 127.0.0.1");
    }
    try {
      return new WebServer(answers, transport, address, port);
    } catch (RuntimeException e) {
      if (e.getCause() instanceof BindException) {
        throw new IOException(
            "Port "
                + port
                + " is taken by another program. Set http.port to a free one (0 takes any).",
            e);
      }
      throw e;
    }
  }

  /** Where the page is. */
  public URI uri() {
    return URI.create("http://localhost:" + port + "/");
  }

  /** Every place of the API, so that its description can be checked against what there is. */
  public Set<String> places() {
    return Set.copyOf(places.keySet());
  }

  private HttpHandler paths(Answering answers) {
    Api api = new Api(answers.rooms());
    JobApi jobs = new JobApi(api, answers.jobs());
    MaterialApi materials = new MaterialApi(api, answers.cans(), answers.rooms().shelf());
    AirApi air = new AirApi(api, answers.air());
    HttpHandler live =
        Handlers.serverSentEvents(
            (connection, lastEventId) -> {
              RoomName room = RoomName.of(first(connection, "room"));
              MaterialShelf.Entry material = api.materialNamed(first(connection, "material"));
              events.add(connection, () -> api.picture(room, material));
            });
    places.put("/api/room", Exchanges.get(api::room));
    places.put("/api/check", Exchanges.get(api::check));
    places.put("/api/mix", Exchanges.get(api::mix));
    places.put("/api/fumes", Exchanges.get(api::fumes));
    places.put("/api/materials", Exchanges.getOrPost(materials::list, materials::keep));
    places.put("/api/material", Exchanges.getOrPost(materials::can, materials::change));
    places.put("/api/jobs", Exchanges.get(jobs::open));
    places.put("/api/job", Exchanges.getOrPost(jobs::job, jobs::post));
    places.put("/api/export", new ExportApi(api, answers.rooms(), answers.jobs()));
    StoreApi store = new StoreApi(answers.store());
    places.put("/api/store", Exchanges.getOrPost(store::state, store::seen));
    places.put("/api/backup", new BackupApi(answers.store().backups()));
    DeviceApi devices = new DeviceApi(api, answers.devices());
    places.put("/api/devices", Exchanges.getOrPost(devices::list, devices::change));
    places.put("/api/broker-files", Exchanges.get(devices::brokerFiles));
    places.put("/api/log", Exchanges.get(jobs::log));
    places.put("/api/forecast", Exchanges.get(api::forecast));
    places.put("/api/plan", Exchanges.get(api::plan));
    places.put("/api/warnings", Exchanges.getOrPost(air::warnings, air::acknowledge));
    places.put("/api/air", Exchanges.getOrPost(air::settings, air::decide));
    places.put("/api/clean-air", Exchanges.getOrPost(air::cleanAir, air::cleanAir));
    places.put("/api/airing", Exchanges.getOrPost(air::airing, air::airing));
    OffsetApi offsets = new OffsetApi(api, answers.offsets());
    places.put("/api/offsets", Exchanges.getOrPost(offsets::list, offsets::correct));
    places.put("/api/history", Exchanges.get(api::history));
    places.put("/healthz", Exchanges.get(api::health));
    places.put("/api/events", new EventDoor(api, events, live));
    PathHandler paths = Handlers.path(new PageFiles());
    places.forEach(paths::addExactPath);
    return gzipped(paths);
  }

  private static String first(ServerSentEventConnection connection, String parameter) {
    return connection.getQueryParameters().getOrDefault(parameter, new ArrayDeque<>()).getFirst();
  }

  private static HttpHandler gzipped(HttpHandler next) {
    return new EncodingHandler(
            new ContentEncodingRepository()
                .addEncodingHandler(
                    "gzip",
                    new GzipEncodingProvider(),
                    50,
                    Predicates.not(Predicates.path("/api/events"))))
        .setNext(next);
  }

  private static HttpHandler secured(HttpHandler next) {
    HttpHandler handler = new SetHeaderHandler(next, "Content-Security-Policy", POLICY);
    handler = new SetHeaderHandler(handler, "X-Content-Type-Options", "nosniff");
    handler = new SetHeaderHandler(handler, "Referrer-Policy", "no-referrer");
    handler = new SetHeaderHandler(handler, "Cross-Origin-Resource-Policy", "same-origin");
    return new SetHeaderHandler(handler, "Cross-Origin-Opener-Policy", "same-origin");
  }

  @Override
  public void close() {
    refreshing.cancel();
    staying.cancel();
    events.close();
    server.stop();
  }
}
