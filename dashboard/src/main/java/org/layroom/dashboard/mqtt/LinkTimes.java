package org.layroom.dashboard.mqtt;

import java.time.Duration;

/**
 * The clocks of the link, all in real time.
 *
 * @param keepAlive MQTT keep-alive, whole seconds
 * @param pingEvery how often the link sends itself a message through the broker
 * @param deafAfter without hearing it for so long, the client is restarted
 * @param connectWithin an attempt to connect is given up after this
 * @param firstRetry wait after the first failed attempt; doubles with each
 * @param lastRetry the longest wait
 */
public record LinkTimes(
    Duration keepAlive,
    Duration pingEvery,
    Duration deafAfter,
    Duration connectWithin,
    Duration firstRetry,
    Duration lastRetry) {

  /** What a shop runs with. */
  public static final LinkTimes USUAL =
      new LinkTimes(
          Duration.ofSeconds(30),
          Duration.ofSeconds(30),
          Duration.ofSeconds(60),
          Duration.ofSeconds(30),
          Duration.ofSeconds(1),
          Duration.ofSeconds(30));

  public LinkTimes {
    if (keepAlive.toSeconds() < 1 || deafAfter.compareTo(pingEvery) <= 0) {
      throw new IllegalArgumentException(
          "keep-alive must be 1 s or more and deafAfter longer than pingEvery");
    }
  }
}
