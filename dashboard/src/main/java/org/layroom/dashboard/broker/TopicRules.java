package org.layroom.dashboard.broker;

/**
 * Which topics and filters the embedded broker takes from anybody, whatever their rights: none with
 * control characters (MQTT 3.1.1, section 1.5.3, lets a receiver refuse them; some client libraries
 * die of them), none with {@code ::} (the engine reads it as the name of a queue behind an
 * address), no empty level and none that begins with {@code $} (the server's own, section 4.7.2).
 */
final class TopicRules {
  private TopicRules() {}

  /** Whether a message or a will may be published there, by whoever has the right to. */
  static boolean topic(String topic) {
    return filter(topic) && topic.indexOf('+') < 0 && topic.indexOf('#') < 0;
  }

  /** Whether a filter may be subscribed to or given up, by whoever has the right to. */
  static boolean filter(String filter) {
    return !filter.isEmpty()
        && !filter.contains("::")
        && !filter.startsWith("$")
        && !filter.startsWith("/")
        && !filter.endsWith("/")
        && !filter.contains("//")
        && filter.codePoints().noneMatch(TopicRules::unfit);
  }

  private static boolean unfit(int character) {
    int type = Character.getType(character);
    return type == Character.CONTROL
        || type == Character.SURROGATE
        || type == Character.UNASSIGNED
        || type == Character.PRIVATE_USE
        || character == 0xfffd;
  }
}
