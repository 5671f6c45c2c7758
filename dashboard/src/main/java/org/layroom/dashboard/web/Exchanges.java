package org.layroom.dashboard.web;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.io.Receiver;
import io.undertow.server.HttpHandler;
import io.undertow.server.HttpServerExchange;
import io.undertow.server.RequestTooBigException;
import io.undertow.util.Headers;
import io.undertow.util.Methods;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Locale;
import java.util.Optional;
import org.layroom.device.telemetry.StrictJson;
import org.tinylog.Logger;

/** The small steps every API handler shares: parameters in, JSON or a problem out. */
final class Exchanges {
  /** The largest request that is read. */
  static final int LARGEST_BODY_BYTES = 64 * 1024;

  private static final JsonMapper JSON = JsonMapper.builder().build();
  private static final JsonMapper STRICT = StrictJson.mapper(16);

  private Exchanges() {}

  /** What answers one API request. */
  interface Answering {
    JsonNode answer(HttpServerExchange exchange);
  }

  /** What takes one JSON object in and answers. */
  interface Accepting {
    Reply accept(HttpServerExchange exchange, ObjectNode body);
  }

  /** An answer with its status. */
  record Reply(int status, JsonNode body) {
    static Reply ok(JsonNode body) {
      return new Reply(200, body);
    }
  }

  /** A handler for POST of one JSON object, from Layroom's own page or a program on purpose. */
  static HttpHandler post(Accepting accepting) {
    return exchange -> {
      if (!exchange.getRequestMethod().equals(Methods.POST)) {
        notAllowed(exchange, "POST");
        return;
      }
      accept(exchange, accepting);
    };
  }

  /** A handler for a place that can be read and written. */
  static HttpHandler getOrPost(Answering answering, Accepting accepting) {
    HttpHandler get = get(answering);
    HttpHandler post = post(accepting);
    return exchange -> {
      if (exchange.getRequestMethod().equals(Methods.POST)) {
        post.handleRequest(exchange);
      } else {
        get.handleRequest(exchange);
      }
    };
  }

  /** Waits for the body without holding a thread: however slowly it comes, others are answered. */
  private static void accept(HttpServerExchange exchange, Accepting accepting) {
    if (!isJson(exchange)) {
      send(exchange, Problem.of(415, "Send one JSON object with Content-Type application/json."));
      return;
    }
    Receiver receiver = exchange.getRequestReceiver();
    receiver.setMaxBufferSize(LARGEST_BODY_BYTES);
    receiver.receiveFullBytes(
        (whole, bytes) -> whole.dispatch(() -> accept(whole, accepting, bytes)),
        Exchanges::brokenOff);
  }

  private static void accept(HttpServerExchange exchange, Accepting accepting, byte[] bytes) {
    answering(
        exchange,
        () -> {
          Reply reply = accepting.accept(exchange, body(bytes));
          send(exchange, reply.status(), "application/json", reply.body());
        });
  }

  private static void brokenOff(HttpServerExchange exchange, IOException e) {
    if (e instanceof RequestTooBigException || e instanceof Receiver.RequestToLargeException) {
      exchange.setPersistent(false);
      send(exchange, Problem.of(413, "The request is over 64 KiB."));
      return;
    }
    Logger.debug(e, "A request from {} was interrupted", exchange.getRequestPath());
    exchange.endExchange();
  }

  /** A browser does not send JSON to another place without asking first. */
  private static boolean isJson(HttpServerExchange exchange) {
    String type = exchange.getRequestHeaders().getFirst(Headers.CONTENT_TYPE);
    return type != null && type.toLowerCase(Locale.ROOT).startsWith("application/json");
  }

  private static ObjectNode body(byte[] bytes) throws IOException {
    try {
      if (STRICT.readTree(bytes) instanceof ObjectNode object) {
        return object;
      }
    } catch (JsonProcessingException e) {
      throw Problem.badField("body", "", "is not JSON: " + firstLine(e));
    }
    throw Problem.badField("body", "", "must be one JSON object");
  }

  private static String firstLine(Exception e) {
    return String.valueOf(e.getMessage()).lines().findFirst().orElse("");
  }

  private static void notAllowed(HttpServerExchange exchange, String allowed) {
    exchange.getResponseHeaders().put(Headers.ALLOW, allowed);
    send(exchange, Problem.of(405, "Only " + allowed + " is supported here."));
  }

  /** A handler for GET that answers with JSON and 200. */
  static HttpHandler get(Answering answering) {
    return getReply(exchange -> Reply.ok(answering.answer(exchange)));
  }

  /** What answers one API request with a status of its own. */
  interface Replying {
    Reply reply(HttpServerExchange exchange);
  }

  /** A handler for GET that answers with JSON and a status of its own. */
  static HttpHandler getReply(Replying replying) {
    return getting(
        exchange -> {
          Reply reply = replying.reply(exchange);
          send(exchange, reply.status(), "application/json", reply.body());
        });
  }

  /** What sends its answer itself. */
  interface Sending {
    void send(HttpServerExchange exchange) throws IOException;
  }

  /** A handler for GET that runs on a worker thread and turns every failure into a problem. */
  static HttpHandler getting(Sending sending) {
    return exchange -> {
      if (!exchange.getRequestMethod().equals(Methods.GET)
          && !exchange.getRequestMethod().equals(Methods.HEAD)) {
        notAllowed(exchange, "GET, HEAD");
        return;
      }
      exchange.dispatch(() -> answering(exchange, () -> sending.send(exchange)));
    };
  }

  private interface Step {
    void run() throws IOException;
  }

  private static void answering(HttpServerExchange exchange, Step step) {
    try {
      step.run();
    } catch (Problem problem) {
      send(exchange, problem);
    } catch (IOException e) {
      Logger.debug(e, "A request from {} was interrupted", exchange.getRequestPath());
      exchange.endExchange();
    } catch (RuntimeException e) {
      Logger.error(e, "Request {} failed", exchange.getRequestPath());
      send(exchange, Problem.of(500, "Internal error. Layroom's log has the details."));
    }
  }

  static void send(HttpServerExchange exchange, Problem problem) {
    send(exchange, problem.status(), Problem.MEDIA_TYPE, problem.json());
  }

  private static void send(HttpServerExchange exchange, int status, String type, JsonNode body) {
    exchange.setStatusCode(status);
    exchange.getResponseHeaders().put(Headers.CONTENT_TYPE, type);
    exchange.getResponseHeaders().put(Headers.CACHE_CONTROL, "no-store");
    exchange.getResponseSender().send(ByteBuffer.wrap(bytes(body)));
  }

  static byte[] bytes(JsonNode node) {
    try {
      return JSON.writeValueAsBytes(node);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException(e);
    }
  }

  /** The one value of a query parameter; a parameter given twice is refused. */
  static Optional<String> parameter(HttpServerExchange exchange, String name) {
    Deque<String> values = exchange.getQueryParameters().getOrDefault(name, new ArrayDeque<>());
    if (values.size() > 1) {
      throw Problem.badField(name, String.join(", ", values), "enter it only once");
    }
    return Optional.ofNullable(values.peek()).filter(value -> !value.isBlank());
  }

  /** A whole number from 1 to the most; the usual one where the request has none. */
  static int whole(HttpServerExchange exchange, String name, int usual, int most) {
    String text = parameter(exchange, name).orElse(Integer.toString(usual));
    try {
      int number = Integer.parseInt(text);
      if (number >= 1 && number <= most) {
        return number;
      }
    } catch (NumberFormatException e) {
      // said below, with what is wanted instead
    }
    throw Problem.badField(name, text, "a whole number from 1 to " + most);
  }
}
