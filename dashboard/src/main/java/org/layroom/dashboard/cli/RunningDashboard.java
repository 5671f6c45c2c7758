package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.layroom.predictor.limits.Refusal;

/** Asks the dashboard that runs on this machine, over HTTP: the store belongs to it alone. */
final class RunningDashboard {
  private static final Duration PATIENCE = Duration.ofSeconds(10);

  private final URI base;

  RunningDashboard(URI base) {
    this.base = base;
  }

  /** The JSON object at a path of the API. */
  ObjectNode get(String path, Map<String, List<String>> parameters) throws Failure {
    return send(HttpRequest.newBuilder(base.resolve(path + query(parameters))).build());
  }

  /** Posts a JSON object to a path of the API. */
  ObjectNode post(String path, Map<String, List<String>> parameters, ObjectNode body)
      throws Failure {
    return send(
        HttpRequest.newBuilder(base.resolve(path + query(parameters)))
            .header("Content-Type", "application/json")
            .POST(HttpRequest.BodyPublishers.ofString(body.toString()))
            .build());
  }

  private ObjectNode send(HttpRequest request) throws Failure {
    try {
      HttpResponse<byte[]> response =
          HttpClient.newBuilder()
              .connectTimeout(PATIENCE)
              .build()
              .send(
                  HttpRequest.newBuilder(request, (name, value) -> true).timeout(PATIENCE).build(),
                  HttpResponse.BodyHandlers.ofByteArray());
      JsonNode node = JsonMapper.builder().build().readTree(response.body());
      if (response.statusCode() / 100 == 4) {
        throw refused(node);
      }
      if (response.statusCode() / 100 != 2 || !(node instanceof ObjectNode object)) {
        throw new Failure("The dashboard at " + base + " answered " + response.statusCode() + ".");
      }
      return object;
    } catch (IOException e) {
      throw new Failure(
          "No dashboard answers at "
              + base
              + ". Start it with \"layroom serve\" or \"layroom demo\", or name its address with"
              + " --url.",
          e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new Failure("Interrupted while asking the dashboard.", e);
    }
  }

  private static Refused refused(JsonNode problem) {
    List<Refusal> refusals = new ArrayList<>();
    for (JsonNode error : problem.path("errors")) {
      String field = error.path("field").asText();
      String reason = field + ": " + error.path("reason").asText();
      refusals.add(new Refusal(field, error.path("value").asText(), "", reason));
    }
    if (refusals.isEmpty()) {
      refusals.add(new Refusal("request", "", "", problem.path("title").asText("refused")));
    }
    return new Refused(refusals);
  }

  private static String query(Map<String, List<String>> parameters) {
    return parameters.entrySet().stream()
        .flatMap(
            entry ->
                entry.getValue().stream()
                    .map(
                        value ->
                            entry.getKey()
                                + "="
                                + URLEncoder.encode(value, StandardCharsets.UTF_8)))
        .collect(Collectors.joining("&", parameters.isEmpty() ? "" : "?", ""));
  }
}
