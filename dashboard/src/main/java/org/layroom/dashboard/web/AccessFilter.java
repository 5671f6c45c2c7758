package org.layroom.dashboard.web;

import io.undertow.server.HttpHandler;
import io.undertow.server.HttpServerExchange;
import io.undertow.util.AttachmentKey;
import io.undertow.util.HeaderMap;
import io.undertow.util.Headers;
import io.undertow.util.HttpString;
import io.undertow.util.Methods;
import java.net.InetAddress;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.atomic.AtomicInteger;
import org.layroom.dashboard.access.AccessControl;
import org.layroom.dashboard.access.AccessSession;
import org.layroom.dashboard.access.Caller;
import org.layroom.dashboard.access.HostNames;
import org.tinylog.Logger;

/**
 * Everybody comes through here. The name that was asked for must be one of this house's (no DNS
 * rebinding), a page that asks must be Layroom's own (no cross-site requests), and then it depends
 * on who asks: at this machine everything, paired what the role says, else the pairing screen.
 */
final class AccessFilter implements HttpHandler {
  /** Where somebody who is not paired comes: the screen to pair on, what it needs, and its API. */
  private static final Set<String> FOR_STRANGERS =
      Set.of(
          "/",
          "/pair.html",
          "/pair.js",
          "/page.css",
          "/mark.svg",
          "/api/pair",
          "/api/door",
          "/livez");

  /** What somebody who only reads may post all the same. */
  private static final Set<String> FOR_READERS = Set.of("/api/pair", "/api/leave");

  private static final String BEARER = "Bearer ";
  private static final HttpString FETCH_SITE = new HttpString("Sec-Fetch-Site");
  private static final Set<String> ELSEWHERE = Set.of("cross-site", "same-site");
  private static final Set<HttpString> METHODS = Set.of(Methods.GET, Methods.HEAD, Methods.POST);
  private static final AttachmentKey<Caller> VISITOR = AttachmentKey.create(Caller.class);

  private final AccessControl door;
  private final SessionCookie cookie;
  private final HostNames names;
  private final HttpHandler next;
  private final AtomicInteger turnedAway = new AtomicInteger();
  private volatile String last = "";

  AccessFilter(AccessControl door, HostNames names, HttpHandler next) {
    this.door = door;
    this.cookie = new SessionCookie(door.cookieName());
    this.names = names;
    this.next = next;
  }

  /** Who asks. */
  static Caller visitor(HttpServerExchange exchange) {
    return Optional.ofNullable(exchange.getAttachment(VISITOR)).orElseGet(Caller.Stranger::new);
  }

  @Override
  public void handleRequest(HttpServerExchange exchange) throws Exception {
    Optional<Problem> refused = wrongWay(exchange);
    if (refused.isEmpty()) {
      Caller visitor = who(exchange);
      exchange.putAttachment(VISITOR, visitor);
      refused = notForThem(exchange, visitor);
      refused.ifPresent(problem -> challenge(exchange, problem.status()));
    }
    if (refused.isPresent()) {
      turnedAway.incrementAndGet();
      last = exchange.getSourceAddress().getHostString();
      Exchanges.send(exchange, refused.get());
      return;
    }
    next.handleRequest(exchange);
  }

  /** Says once in a while, not each time, how often somebody was turned away. */
  void tell() {
    int count = turnedAway.getAndSet(0);
    if (count > 0) {
      Logger.warn("{} requests were refused, the last from {}", count, last);
    }
  }

  private Optional<Problem> wrongWay(HttpServerExchange exchange) {
    if (!METHODS.contains(exchange.getRequestMethod())) {
      exchange.getResponseHeaders().put(Headers.ALLOW, "GET, HEAD, POST");
      return Optional.of(Problem.of(405, "Only GET, HEAD and POST are supported here."));
    }
    String host = LocalOnly.host(exchange.getRequestHeaders());
    InetAddress arrived = exchange.getDestinationAddress().getAddress();
    if (!names.answersTo(host, arrived)) {
      return Optional.of(
          Problem.of(
              403,
              "This host name is not allowed. Use the machine's address, or add the name to"
                  + " http.names in the settings."));
    }
    if (!readableCookies(exchange)) {
      return Optional.of(Problem.of(400, "The request has too many cookies, or broken ones."));
    }
    if (fromElsewhere(exchange)) {
      return Optional.of(Problem.of(403, "Only Layroom's own page may send this request."));
    }
    return Optional.empty();
  }

  private boolean readableCookies(HttpServerExchange exchange) {
    try {
      cookie.tokens(exchange);
      return true;
    } catch (IllegalStateException | IllegalArgumentException e) {
      return false;
    }
  }

  /** Whether a browser says that a page of somebody else's makes this request. */
  private static boolean fromElsewhere(HttpServerExchange exchange) {
    HeaderMap headers = exchange.getRequestHeaders();
    String own = exchange.getRequestScheme() + "://" + headers.getFirst(Headers.HOST);
    if (headers.contains(Headers.ORIGIN)
        && (headers.count(Headers.ORIGIN) != 1 || !own.equals(headers.getFirst(Headers.ORIGIN)))) {
      return true;
    }
    String site = headers.getFirst(FETCH_SITE);
    return site != null && ELSEWHERE.contains(site) && isApi(exchange);
  }

  private static boolean isApi(HttpServerExchange exchange) {
    return exchange.getRequestPath().startsWith("/api/");
  }

  /** RFC 6750, section 3: what a program has to show, or what is wrong with what it showed. */
  private static void challenge(HttpServerExchange exchange, int status) {
    boolean shown = bearer(exchange).isPresent();
    if (status == 401) {
      exchange
          .getResponseHeaders()
          .put(
              Headers.WWW_AUTHENTICATE,
              "Bearer realm=\"Layroom\"" + (shown ? ", error=\"invalid_token\"" : ""));
    } else if (shown) {
      exchange
          .getResponseHeaders()
          .put(Headers.WWW_AUTHENTICATE, "Bearer realm=\"Layroom\", error=\"insufficient_scope\"");
    }
  }

  private static Optional<String> bearer(HttpServerExchange exchange) {
    return Optional.ofNullable(exchange.getRequestHeaders().getFirst(Headers.AUTHORIZATION))
        .filter(shown -> shown.regionMatches(true, 0, BEARER, 0, BEARER.length()))
        .map(shown -> shown.substring(BEARER.length()).strip());
  }

  private Caller who(HttpServerExchange exchange) {
    Optional<String> token = bearer(exchange);
    if (token.isPresent()) {
      return door.enterProgram(token.get())
          .map(program -> (Caller) new Caller.Program(program))
          .orElseGet(Caller.Stranger::new);
    }
    if (LocalOnly.asks(exchange)) {
      return new Caller.Here();
    }
    return session(exchange)
        .map(s -> (Caller) new Caller.Paired(s))
        .orElseGet(Caller.Stranger::new);
  }

  private Optional<AccessSession> session(HttpServerExchange exchange) {
    return cookie.tokens(exchange).stream()
        .flatMap(token -> door.enter(token).stream())
        .findFirst();
  }

  private static Optional<Problem> notForThem(HttpServerExchange exchange, Caller visitor) {
    String path = exchange.getRequestPath();
    if (visitor instanceof Caller.Stranger && bearer(exchange).isPresent()) {
      return Optional.of(
          Problem.of(
              401,
              "This token is not known here, or was revoked. Make one on the dashboard's machine:"
                  + " layroom token NAME"));
    }
    if (path.startsWith(CalendarApi.FEEDS)) {
      return Optional.empty();
    }
    if (!visitor.mayRead() && !FOR_STRANGERS.contains(path)) {
      return Optional.of(
          Problem.of(
              401,
              "This device is not paired with Layroom. Open its page and enter a pairing"
                  + " code."));
    }
    if (visitor.mayRead()
        && !visitor.mayWrite()
        && exchange.getRequestMethod().equals(Methods.POST)
        && !FOR_READERS.contains(path)) {
      return Optional.of(
          Problem.of(
              403,
              visitor instanceof Caller.Program
                  ? "This token is read-only. For one that makes changes: layroom token NAME --full"
                  : "This device is read-only. To make changes, pair it again with a full-access"
                      + " code."));
    }
    return Optional.empty();
  }
}
