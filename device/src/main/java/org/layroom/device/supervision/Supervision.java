package org.layroom.device.supervision;

import java.io.IOException;
import java.time.Duration;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.tinylog.Logger;

/**
 * Tells systemd that the program is up, and again and again that its work goes on (manual pages
 * {@code sd_notify(3)} and {@code systemd.service(5)}, "WatchdogSec="). The word goes out through
 * the program {@code systemd-notify}: the socket wants datagrams, which Java 17 has none of for
 * Unix sockets, and a library for one word every 40 s would bring native code for every kind of
 * processor. So the unit needs {@code NotifyAccess=all}. Without systemd nothing is told.
 */
public final class Supervision {
  private static final String SOCKET = "NOTIFY_SOCKET";
  private static final String WATCHDOG_MICROSECONDS = "WATCHDOG_USEC";
  private static final int WORDS_A_PATIENCE = 3;

  private final boolean listened;
  private final Optional<Duration> patience;
  private final Teller teller;
  private boolean complained;

  /** Runs a command that takes the word along. */
  interface Teller {
    void run(List<String> command) throws IOException;
  }

  Supervision(Map<String, String> environment, Teller teller) {
    listened = environment.containsKey(SOCKET);
    patience = listened ? patience(environment) : Optional.empty();
    this.teller = teller;
  }

  /** As the environment of this process says. */
  public static Supervision ofThisProcess() {
    return new Supervision(System.getenv(), Supervision::start);
  }

  private static void start(List<String> command) throws IOException {
    new ProcessBuilder(command)
        .redirectErrorStream(true)
        .redirectOutput(ProcessBuilder.Redirect.DISCARD)
        .start();
  }

  private static Optional<Duration> patience(Map<String, String> environment) {
    try {
      long microseconds =
          Long.parseLong(environment.getOrDefault(WATCHDOG_MICROSECONDS, "0").strip());
      return Optional.of(Duration.of(microseconds, ChronoUnit.MICROS))
          .filter(time -> !time.isNegative() && !time.isZero());
    } catch (NumberFormatException | ArithmeticException e) {
      return Optional.empty();
    }
  }

  /**
   * How often {@link #alive()} is wanted: a third of the time after which systemd starts the
   * program anew. Empty when nobody waits for it.
   */
  public Optional<Duration> rhythm() {
    return patience.map(time -> time.dividedBy(WORDS_A_PATIENCE)).filter(time -> !time.isZero());
  }

  /** The program is up. */
  public void ready() {
    tell("READY=1");
  }

  /** The work goes on. */
  public void alive() {
    tell("WATCHDOG=1");
  }

  private synchronized void tell(String word) {
    if (!listened) {
      return;
    }
    try {
      teller.run(List.of("systemd-notify", word));
    } catch (IOException e) {
      if (!complained) {
        Logger.warn("Cannot notify systemd of \"{}\": {}", word, e.getMessage());
      }
      complained = true;
    }
  }
}
