package org.layroom.dashboard.testing;

import java.util.List;

/**
 * What the paired device {@code bench} of room {@code shop} may neither say, nor leave as its will,
 * nor hear: one table for the broker inside and for the access list that mosquitto reads.
 */
public final class ForeignTopics {
  /** Topics, for messages and for wills. */
  public static final List<String> SAID =
      List.of(
          "layroom/shop/annex/readings",
          "layroom/shop/annex/status",
          "layroom/shop/annex/alarm",
          "layroom/house/bench/readings",
          "layroom/shop/bench/stored",
          "layroom/shop/bench/settings",
          "layroom/shop/bench/acknowledge",
          "layroom/shop/bench/readings/more",
          "layroom/shop/bench/readings::layroom.shop.annex.settings",
          "layroom.shop.annex.readings",
          "layroom/shop//readings",
          "/layroom/shop/bench/readings",
          "layroom/shop/bench/readings/",
          "layroom/shop/verdict",
          "layroom/shop/warnings",
          "layroom/shop/jobs",
          "layroom/dashboard",
          "$SYS/broker/uptime",
          "$share/x/layroom/shop/bench/readings");

  /** Filters, to subscribe to and to give up. */
  public static final List<String> HEARD =
      List.of(
          "#",
          "+/+/+/settings",
          "layroom/#",
          "layroom/+/+/readings",
          "layroom/shop/bench/#",
          "layroom/shop/bench/+",
          "layroom/shop/annex/settings",
          "layroom/shop/annex/readings",
          "layroom/house/verdict",
          "layroom/+/verdict",
          "layroom/shop/warnings",
          "layroom/shop/bench/readings",
          "layroom/shop/bench/settings::layroom.shop.annex.settings",
          "$SYS/#",
          "$share/group/layroom/shop/annex/settings",
          "$share/group/layroom/#");

  private ForeignTopics() {}
}
