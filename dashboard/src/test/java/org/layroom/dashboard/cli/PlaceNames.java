package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.InputStream;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;

/**
 * Places of the API with methods and parameters, as its description names them; each method is
 * tried at a running dashboard.
 */
final class PlaceNames {
  private static final List<String> METHODS = List.of("GET", "POST", "PUT", "PATCH", "DELETE");
  private static final int NOT_THAT_METHOD = 405;

  private final HttpClient http = HttpClient.newHttpClient();
  private final URI page;

  private PlaceNames(URI page) {
    this.page = page;
  }

  static Set<String> all(URI page) throws IOException, InterruptedException {
    return new PlaceNames(page).names();
  }

  private Set<String> names() throws IOException, InterruptedException {
    Set<String> names = new TreeSet<>();
    JsonNode places;
    try (InputStream description = ask("GET", "/api/openapi.json").body()) {
      places = JsonMapper.builder().build().readTree(description).path("paths");
    }
    for (var place : places.properties()) {
      for (String method : METHODS) {
        if (place.getValue().has(method.toLowerCase(Locale.ROOT))) {
          HttpResponse<InputStream> response = ask(method, place.getKey());
          response.body().close();
          if (response.statusCode() != NOT_THAT_METHOD) {
            names.add("place " + method + " " + place.getKey());
          }
        }
      }
      for (JsonNode parameter : place.getValue().path("get").path("parameters")) {
        names.add("parameter " + place.getKey() + " " + parameter.path("name").asText());
      }
    }
    return names;
  }

  private HttpResponse<InputStream> ask(String method, String path)
      throws IOException, InterruptedException {
    HttpRequest request =
        HttpRequest.newBuilder(page.resolve(path))
            .timeout(Duration.ofSeconds(60))
            .header("Content-Type", "application/json")
            .method(
                method,
                method.equals("GET")
                    ? HttpRequest.BodyPublishers.noBody()
                    : HttpRequest.BodyPublishers.ofString("{}"))
            .build();
    return http.send(request, HttpResponse.BodyHandlers.ofInputStream());
  }
}
