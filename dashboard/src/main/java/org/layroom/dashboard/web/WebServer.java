package org.layroom.dashboard.web;

import io.undertow.Handlers;
import io.undertow.Undertow;
import io.undertow.UndertowOptions;
import io.undertow.predicate.Predicates;
import io.undertow.server.HttpHandler;
import io.undertow.server.handlers.PathHandler;
import io.undertow.server.handlers.encoding.ContentEncodingRepository;
import io.undertow.server.handlers.encoding.EncodingHandler;
import io.undertow.server.handlers.encoding.GzipEncodingProvider;
import java.io.IOException;
import java.net.BindException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.UnknownHostException;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.layroom.dashboard.announce.Announcer;
import org.layroom.dashboard.answer.AccessAnswers;
import org.layroom.dashboard.answer.AirAnswers;
import org.layroom.dashboard.answer.DeviceAnswers;
import org.layroom.dashboard.answer.MaterialAnswers;
import org.layroom.dashboard.answer.OffsetAnswers;
import org.layroom.dashboard.answer.RoomAnswers;
import org.layroom.dashboard.answer.RoomLines;
import org.layroom.dashboard.answer.StoreAnswers;
import org.layroom.dashboard.answer.job.JobAnswers;
import org.layroom.dashboard.answer.job.ProtectionAnswers;
import org.layroom.dashboard.calendar.RoomCalendar;
import org.layroom.dashboard.monitor.Figures;
import org.layroom.dashboard.monitor.Readiness;
import org.layroom.device.pace.Pace;
import org.xnio.Options;
import org.xnio.Sequence;

/** The page, its API and its live events, on this machine and, where that is wanted, beyond. */
public final class WebServer implements AutoCloseable {
  private static final Duration PICTURE_EVERY = Duration.ofSeconds(1);
  private static final Duration TELL_EVERY = Duration.ofMinutes(1);
  private static final Duration ALIVE_EVERY = Duration.ofSeconds(5);
  private static final int LOOPBACK = 0;
  private static final int PIECE_MILLIS = 20_000;

  /** Forward secrecy and authenticated encryption only; TLS 1.3 has nothing else. */
  private static final List<String> CIPHERS =
      List.of(
          "TLS_AES_256_GCM_SHA384",
          "TLS_AES_128_GCM_SHA256",
          "TLS_CHACHA20_POLY1305_SHA256",
          "TLS_ECDHE_ECDSA_WITH_AES_256_GCM_SHA384",
          "TLS_ECDHE_ECDSA_WITH_AES_128_GCM_SHA256",
          "TLS_ECDHE_ECDSA_WITH_CHACHA20_POLY1305_SHA256",
          "TLS_ECDHE_RSA_WITH_AES_256_GCM_SHA384",
          "TLS_ECDHE_RSA_WITH_AES_128_GCM_SHA256",
          "TLS_ECDHE_RSA_WITH_CHACHA20_POLY1305_SHA256");

  /** Everything that the page asks. */
  public record Answering(
      RoomAnswers rooms,
      RoomLines lines,
      JobAnswers jobs,
      ProtectionAnswers protection,
      MaterialAnswers cans,
      AirAnswers air,
      OffsetAnswers offsets,
      StoreAnswers store,
      DeviceAnswers devices,
      AccessAnswers door,
      Readiness readiness,
      Figures figures,
      RoomCalendar calendar,
      Announcer announcer) {}

  private final Map<String, HttpHandler> places = new LinkedHashMap<>();
  private final Undertow server;
  private final EventStream events = new EventStream();
  private final RoomBoard board;
  private final Pace.Scheduled refreshing;
  private final Pace.Scheduled staying;
  private final Pace.Scheduled telling;
  private final ListenSettings listening;
  private final int port;

  private WebServer(Answering answers, Pace transport, ListenSettings listening)
      throws IOException {
    this.listening = listening;
    this.board =
        new RoomBoard(
            () -> answers.lines().list(Optional.empty(), Optional.empty(), RoomLines.MOST));
    Undertow.Builder builder =
        Undertow.builder()
            .setIoThreads(2)
            .setWorkerThreads(8)
            .setServerOption(UndertowOptions.MAX_ENTITY_SIZE, (long) Exchanges.LARGEST_BODY_BYTES)
            .setServerOption(UndertowOptions.MAX_HEADER_SIZE, 16 * 1024)
            .setServerOption(UndertowOptions.MAX_HEADERS, 64)
            .setServerOption(UndertowOptions.MAX_COOKIES, 32)
            .setServerOption(UndertowOptions.MAX_PARAMETERS, 32)
            .setServerOption(UndertowOptions.REQUEST_PARSE_TIMEOUT, PIECE_MILLIS)
            .setServerOption(UndertowOptions.NO_REQUEST_TIMEOUT, 60_000)
            .setSocketOption(Options.WRITE_TIMEOUT, PIECE_MILLIS)
            .setSocketOption(Options.SSL_ENABLED_PROTOCOLS, Sequence.of("TLSv1.3", "TLSv1.2"))
            .setSocketOption(Options.SSL_ENABLED_CIPHER_SUITES, Sequence.of(CIPHERS));
    AccessFilter all = new AccessFilter(answers.door().door(), listening.names(), paths(answers));
    builder.setHandler(new SecurityHeaders(new Deadline(all)));
    listen(builder);
    this.server = builder.build();
    server.start();
    this.port = port(LOOPBACK);
    this.refreshing = transport.every(PICTURE_EVERY, this::refresh);
    this.staying = transport.every(ALIVE_EVERY, events::alive);
    this.telling = transport.every(TELL_EVERY, all::tell);
    answers.door().door().onGone(events::endThoseOutside);
  }

  /**
   * Without TLS on this machine, always the first listener, and beyond it only while there is no
   * certificate.
   */
  private void listen(Undertow.Builder builder) throws IOException {
    boolean plain = listening.tls().isEmpty();
    InetAddress address = InetAddress.getByName(listening.address());
    if (address.isLoopbackAddress() || (plain && address.isAnyLocalAddress())) {
      builder.addHttpListener(listening.port(), listening.address());
    } else {
      builder.addHttpListener(listening.port(), "127.0.0.1");
      if (plain) {
        builder.addHttpListener(listening.port(), listening.address());
      }
    }
    listening
        .tls()
        .ifPresent(tls -> builder.addHttpsListener(listening.tlsPort(), listening.address(), tls));
  }

  private int port(int listener) {
    return ((InetSocketAddress) server.getListenerInfo().get(listener).getAddress()).getPort();
  }

  /**
   * Starts to listen.
   *
   * @param transport real time, which live events go by
   * @throws IOException when it cannot listen there, with what to change
   */
  public static WebServer start(Answering answers, Pace transport, ListenSettings listening)
      throws IOException {
    try {
      return new WebServer(answers, transport, listening);
    } catch (RuntimeException e) {
      if (e.getCause() instanceof BindException) {
        throw new IOException(
            "Port "
                + listening.port()
                + listening.tls().map(tls -> " or " + listening.tlsPort()).orElse("")
                + " is in use by another program. Set http.port (or https.port) to a free port"
                + " (0 for any).",
            e);
      }
      throw e;
    }
  }

  /** Where the page is on this machine. */
  public URI uri() {
    return URI.create("http://localhost:" + port + "/");
  }

  /** Where the page is for others in the house; empty when it is for this machine only. */
  public List<String> houseUris() {
    if (server.getListenerInfo().isEmpty() || onlyHere()) {
      return List.of();
    }
    int last = server.getListenerInfo().size() - 1;
    String scheme = server.getListenerInfo().get(last).getProtcol();
    return hosts().stream().map(host -> scheme + "://" + host + ":" + port(last) + "/").toList();
  }

  private List<String> hosts() {
    try {
      InetAddress address = InetAddress.getByName(listening.address());
      return address.isAnyLocalAddress()
          ? listening.names().reachedBy()
          : List.of(listening.address());
    } catch (UnknownHostException e) {
      return List.of();
    }
  }

  private boolean onlyHere() {
    try {
      return InetAddress.getByName(listening.address()).isLoopbackAddress();
    } catch (UnknownHostException e) {
      return true;
    }
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
    places.put("/api/room", Exchanges.get(api::room));
    RoomListApi list = new RoomListApi(api, answers.lines());
    places.put("/api/rooms", Exchanges.get(list::rooms));
    places.put("/api/check", Exchanges.getOrPost(api::check, api::check));
    MixApi mix = new MixApi(api, answers.protection());
    places.put("/api/mix", Exchanges.getOrPost(mix::mix, api::mix));
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
    places.put("/api/wiping", Exchanges.post(air::wiping));
    places.put("/api/air", Exchanges.getOrPost(air::settings, air::decide));
    BumpTestApi bump = new BumpTestApi(api, answers.air().bumpTests());
    places.put("/api/bump-test", Exchanges.getOrPost(bump::state, bump::tell));
    places.put("/api/clean-air", Exchanges.getOrPost(air::cleanAir, air::cleanAir));
    places.put("/api/airing", Exchanges.getOrPost(air::airing, air::airing));
    OffsetApi offsets = new OffsetApi(api, answers.offsets());
    places.put("/api/offsets", Exchanges.getOrPost(offsets::list, offsets::correct));
    places.put("/api/history", Exchanges.get(api::history));
    places.put("/healthz", Exchanges.get(api::health));
    places.put("/livez", Exchanges.get(api::health));
    MonitorApi monitor = new MonitorApi(answers.readiness(), answers.figures());
    places.put("/readyz", monitor.ready());
    places.put("/metrics", monitor.metrics());
    TokenApi tokens = new TokenApi(answers.door(), this::houseUris);
    places.put("/api/tokens", Exchanges.getOrPost(tokens::list, tokens::change));
    AccessApi door = new AccessApi(answers.door(), this::houseUris);
    places.put("/api/door", Exchanges.getOrPost(door::state, door::change));
    places.put("/api/pair", Exchanges.post(door::pair));
    places.put("/api/leave", Exchanges.post(door::leave));
    places.put("/api/events", new EventAccess(api, events, board, answers.door().door()));
    AnnounceApi announce = new AnnounceApi(api, answers.announcer());
    places.put("/api/announce", Exchanges.getOrPost(announce::state, announce::test));
    CalendarApi calendar = new CalendarApi(api, answers.calendar(), answers.door().door());
    places.put("/api/calendar", calendar.one());
    PathHandler paths = Handlers.path(new PageFiles());
    paths.addPrefixPath(CalendarApi.FEEDS, calendar.feed());
    places.forEach(paths::addExactPath);
    return gzipped(paths);
  }

  private void refresh() {
    board.age();
    events.refresh();
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

  @Override
  public void close() {
    refreshing.cancel();
    staying.cancel();
    telling.cancel();
    events.close();
    server.stop();
  }
}
