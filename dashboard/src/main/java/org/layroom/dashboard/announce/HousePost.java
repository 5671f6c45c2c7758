package org.layroom.dashboard.announce;

import java.io.IOException;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import org.layroom.device.pace.Pace;
import org.tinylog.Logger;

/**
 * Posts announcements to one address, one after the other, each at most three times; follows no
 * redirects. While the address does not answer, at most 50 wait; more are dropped and logged. Safe
 * for any number of threads.
 */
final class HousePost implements AutoCloseable {
  static final int TRIES = 3;
  private static final int MOST_WAITING = 50;
  private static final Duration PATIENCE = Duration.ofSeconds(5);
  private static final Duration BETWEEN_TRIES = Duration.ofSeconds(2);

  private final HouseAddress address;
  private final Pace transport;
  private final HttpClient http;
  private final ThreadPoolExecutor worker;
  private volatile Optional<String> trouble = Optional.empty();

  HousePost(HouseAddress address, Pace transport) {
    this.address = address;
    this.transport = transport;
    this.http =
        HttpClient.newBuilder()
            .connectTimeout(PATIENCE)
            .followRedirects(HttpClient.Redirect.NEVER)
            .build();
    this.worker =
        new ThreadPoolExecutor(
            0,
            1,
            30,
            TimeUnit.SECONDS,
            new ArrayBlockingQueue<>(MOST_WAITING),
            task -> new Thread(task, "layroom-announce"),
            (task, full) ->
                Logger.warn("{} does not answer: an announcement was dropped", address.uri()));
  }

  /** Posts one when those before it are through. */
  void soon(Announcement one) {
    worker.execute(() -> now(one));
  }

  /** Posts one now, on the caller's thread; empty when it was taken, else why it was not. */
  Optional<String> now(Announcement one) {
    Optional<String> failed = Optional.empty();
    for (int i = 0; i < TRIES; i++) {
      try {
        if (i > 0) {
          transport.pause(BETWEEN_TRIES);
        }
        failed = sent(one);
        if (failed.isEmpty()) {
          break;
        }
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
        return Optional.of("The dashboard is stopping.");
      }
    }
    trouble = failed;
    failed.ifPresent(why -> Logger.warn("Announcement \"{}\" was not taken: {}", one.title(), why));
    return failed;
  }

  /** Why the newest was not taken; empty when it was, or when there was none. */
  Optional<String> trouble() {
    return trouble;
  }

  private Optional<String> sent(Announcement one) throws InterruptedException {
    try {
      HttpRequest.Builder request =
          HttpRequest.newBuilder(address.uri())
              .timeout(PATIENCE)
              .header("Content-Type", address.contentType())
              .POST(
                  HttpRequest.BodyPublishers.ofString(
                      address.body().of(one), StandardCharsets.UTF_8));
      if (address.headerFile().isPresent()) {
        for (String line : Files.readAllLines(address.headerFile().get())) {
          header(request, line);
        }
      }
      int status = http.send(request.build(), HttpResponse.BodyHandlers.discarding()).statusCode();
      return status / 100 == 2
          ? Optional.empty()
          : Optional.of(address.uri() + " answered " + status + ".");
    } catch (IOException | IllegalArgumentException e) {
      return Optional.of(address.uri() + " cannot be reached: " + e);
    }
  }

  private static void header(HttpRequest.Builder request, String line) {
    int colon = line.indexOf(':');
    if (colon > 0) {
      request.header(line.substring(0, colon).strip(), line.substring(colon + 1).strip());
    }
  }

  @Override
  public void close() {
    worker.shutdownNow();
  }
}
