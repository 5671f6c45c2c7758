package org.layroom.dashboard.access.device;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Which filters lie within others; the signs are those of MQTT 3.1.1, section 4.7.1. */
class TopicFilterTest {
  @ParameterizedTest
  @CsvSource({
    "layroom-now/#, layroom-now/shop/temperature, true",
    "layroom-now/#, layroom-now/+/temperature, true",
    "layroom-now/#, layroom-now/#, true",
    "layroom-now/#, layroom-now, true",
    "layroom-now/#, #, false",
    "layroom-now/#, +/shop/temperature, false",
    "layroom-now/#, layroom/shop, false",
    "layroom/+/verdict, layroom/shop/verdict, true",
    "layroom/+/verdict, layroom/+/verdict, true",
    "layroom/+/verdict, layroom/+/+, false",
    "layroom/+/verdict, layroom/#, false",
    "layroom/+/verdict, layroom/shop/#, false",
    "layroom/+/verdict, layroom/shop/bench/verdict, false",
    "layroom/+/+/readings, layroom/shop/bench/readings, true",
    "layroom/+/+/readings, layroom/shop/bench/settings, false",
    "layroom/dashboard, layroom/+, false",
    "layroom/dashboard, layroom/dashboard, true"
  })
  void aFilterThatHearsMoreIsNotCovered(String wide, String filter, boolean covered) {
    assertEquals(covered, TopicFilter.covers(wide, filter));
  }
}
