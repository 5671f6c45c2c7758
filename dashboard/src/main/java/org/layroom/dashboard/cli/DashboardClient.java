package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.net.ConnectException;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.predictor.limits.Refusal;
import org.tinylog.Logger;

/** Asks the dashboard that runs on this machine, over HTTP: the store belongs to it alone. */
final class DashboardClient {
  private static final Duration PATIENCE = Duration.ofSeconds(10);

  private final URI base;

  DashboardClient(URI base) {
    this.base = base;
  }

  /** The JSON object at a path of the API. */
  ObjectNode get(String path, Map<String, List<String>> parameters) throws StartFailure {
    return send(HttpRequest.newBuilder(base.resolve(path + query(parameters))).build());
  }

  /** The same about a material, which is named, or sent along when it is a file. */
  ObjectNode get(String path, Map<String, List<String>> parameters, MaterialChoice material)
      throws StartFailure {
    Optional<ObjectNode> file = material.fileForDashboard();
    if (file.isPresent()) {
      return post(path, parameters, file.get());
    }
    Map<String, List<String>> all = new LinkedHashMap<>(parameters);
    material.id.ifPresent(id -> all.put("material", List.of(id)));
    return get(path, all);
  }

  /** Posts a JSON object to a path of the API. */
  ObjectNode post(String path, Map<String, List<String>> parameters, ObjectNode body)
      throws StartFailure {
    return send(
        HttpRequest.newBuilder(base.resolve(path + query(parameters)))
            .header("Content-Type", "application/json")
            .POST(HttpRequest.BodyPublishers.ofString(body.toString()))
            .build());
  }

  private ObjectNode send(HttpRequest request) throws StartFailure {
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
        throw new StartFailure(
            "The dashboard at " + base + " answered " + response.statusCode() + ".");
      }
      return object;
    } catch (IOException e) {
      throw nobody(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new StartFailure("Interrupted while waiting for the dashboard.", e);
    }
  }

  /** An answer of the dashboard that brings its own lines for people. */
  Answer answer(String path, Map<String, List<String>> parameters) throws StartFailure {
    return answer(get(path, parameters));
  }

  /** The same about a material, which is named, or sent along when it is a file. */
  Answer answer(String path, Map<String, List<String>> parameters, MaterialChoice material)
      throws StartFailure {
    return answer(get(path, parameters, material));
  }

  private static Answer answer(ObjectNode json) {
    List<String> lines = new ArrayList<>();
    json.path("lines").forEach(line -> lines.add(line.asText()));
    return new Answer(json, lines, !json.path("refused").isEmpty());
  }

  /** Tells the dashboard something; its answer brings its own lines for people. */
  Answer told(String path, ObjectNode body) throws StartFailure {
    ObjectNode json = post(path, Map.of(), body);
    List<String> lines = new ArrayList<>();
    json.path("lines").forEach(line -> lines.add(line.asText()));
    Answer.outcome(json, List.of(), List.of());
    return new Answer(json, lines, false);
  }

  /** Saves what is at a path of the API to a file, which appears only when it is whole. */
  long save(String path, Map<String, List<String>> parameters, Path file) throws StartFailure {
    Path part = file.resolveSibling(file.getFileName() + ".part");
    try {
      HttpResponse<Path> response =
          HttpClient.newBuilder()
              .connectTimeout(PATIENCE)
              .build()
              .send(
                  HttpRequest.newBuilder(base.resolve(path + query(parameters))).build(),
                  HttpResponse.BodyHandlers.ofFile(part));
      if (response.statusCode() / 100 == 4) {
        throw refused(JsonMapper.builder().build().readTree(Files.readAllBytes(part)));
      }
      if (response.statusCode() != 200) {
        String title = problem(Files.readAllBytes(part)).path("title").asText("");
        throw new StartFailure(
            "The dashboard at " + base + " answered " + response.statusCode() + ". " + title);
      }
      Files.move(part, file, StandardCopyOption.REPLACE_EXISTING);
      return Files.size(file);
    } catch (ConnectException e) {
      throw nobody(e);
    } catch (IOException e) {
      throw new StartFailure("Cannot write " + file + ": " + e.getMessage(), e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new StartFailure("Interrupted while waiting for the dashboard.", e);
    } finally {
      discard(part);
    }
  }

  private static JsonNode problem(byte[] body) {
    try {
      return JsonMapper.builder().build().readTree(body);
    } catch (IOException e) {
      return JsonNodeFactory.instance.objectNode();
    }
  }

  private static void discard(Path part) {
    try {
      Files.deleteIfExists(part);
    } catch (IOException e) {
      Logger.debug(e, "The partial file {} could not be deleted", part);
    }
  }

  private StartFailure nobody(IOException cause) {
    return new StartFailure(
        "No dashboard answers at "
            + base
            + ". Start it with \"layroom serve\" or \"layroom demo\", or enter its address with"
            + " --url.",
        cause);
  }

  private static RefusedInput refused(JsonNode problem) {
    List<Refusal> refusals = new ArrayList<>();
    for (JsonNode error : problem.path("errors")) {
      String field = error.path("field").asText();
      String reason = field + ": " + error.path("reason").asText();
      refusals.add(new Refusal(field, error.path("value").asText(), "", reason));
    }
    if (refusals.isEmpty()) {
      refusals.add(new Refusal("request", "", "", problem.path("title").asText("refused")));
    }
    return new RefusedInput(refusals);
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
