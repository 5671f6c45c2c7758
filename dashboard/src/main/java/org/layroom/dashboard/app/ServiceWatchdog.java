package org.layroom.dashboard.app;

import java.io.IOException;
import java.net.HttpURLConnection;
import java.net.URI;
import java.time.Duration;
import org.layroom.device.pace.RealPace;
import org.layroom.device.supervision.Supervision;
import org.tinylog.Logger;

/**
 * Tells systemd that the dashboard is up, and then that it still answers: asked over HTTP as a page
 * asks it, so that a dashboard that hangs is started anew.
 */
public final class ServiceWatchdog implements AutoCloseable {
  private static final Duration PATIENCE = Duration.ofSeconds(10);

  private final URI health;
  private final Supervision supervision;
  private final RealPace pace = new RealPace();

  private ServiceWatchdog(URI page, Supervision supervision) {
    health = page.resolve("/healthz");
    this.supervision = supervision;
  }

  /**
   * Begins to tell, if anybody listens.
   *
   * @param page where the dashboard's page is
   */
  public static ServiceWatchdog start(URI page, Supervision supervision) {
    ServiceWatchdog lifeline = new ServiceWatchdog(page, supervision);
    supervision.ready();
    supervision.rhythm().ifPresent(rhythm -> lifeline.pace.every(rhythm, lifeline::beat));
    return lifeline;
  }

  private void beat() {
    try {
      HttpURLConnection question = (HttpURLConnection) health.toURL().openConnection();
      question.setConnectTimeout((int) PATIENCE.toMillis());
      question.setReadTimeout((int) PATIENCE.toMillis());
      int status = question.getResponseCode();
      question.getInputStream().close();
      if (status == HttpURLConnection.HTTP_OK) {
        supervision.alive();
      }
    } catch (IOException e) {
      Logger.warn("The dashboard's self-check got no answer: {}", e.getMessage());
    }
  }

  @Override
  public void close() {
    pace.close();
  }
}
