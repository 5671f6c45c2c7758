package org.layroom.dashboard.broker;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Topics and filters of MQTT 3.1.1, sections 1.5.3 and 4.7, that no client needs here. */
class TopicRulesTest {
  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "layroom/shop/bench/readings::layroom.shop.annex.settings",
        "layroom/\n/x/readings",
        "layroom/\u0000/x/readings",
        "layroom/\u001b[2J/x/readings",
        "layroom/\u0085/x/readings",
        "layroom/\ufffe/x/readings",
        "layroom/\ud800/x/readings",
        "layroom/\ufffd/x/readings",
        "$SYS/broker",
        "$share/group/layroom/shop/bench/settings",
        "/layroom",
        "layroom/",
        "layroom//bench/readings"
      })
  void neitherPublishedNorSubscribedTo(String topic) {
    assertFalse(TopicRules.topic(topic));
    assertFalse(TopicRules.filter(topic));
  }

  @ParameterizedTest
  @ValueSource(strings = {"layroom/#", "#", "layroom/+/+/readings", "+/shop"})
  void wildcardsAreForFiltersOnly(String filter) {
    assertFalse(TopicRules.topic(filter));
    assertTrue(TopicRules.filter(filter));
  }

  @Test
  void ordinaryNamesPass() {
    assertTrue(TopicRules.topic("layroom/shop/bench/readings"));
    assertTrue(TopicRules.topic("plug/Küche 2/state"));
  }
}
