package org.layroom.dashboard.access.device;

/** Topic filters of MQTT (3.1.1, section 4.7), compared with each other. */
final class TopicFilter {
  private static final String ONE_LEVEL = "+";
  private static final String ALL_BELOW = "#";

  private TopicFilter() {}

  /** Whether a filter hears nothing that the wide one does not hear. */
  static boolean covers(String wide, String filter) {
    String[] allowed = wide.split("/", -1);
    String[] asked = filter.split("/", -1);
    for (int i = 0; i < allowed.length; i++) {
      if (allowed[i].equals(ALL_BELOW)) {
        return true;
      }
      if (i >= asked.length
          || asked[i].equals(ALL_BELOW)
          || !(allowed[i].equals(ONE_LEVEL) || allowed[i].equals(asked[i]))) {
        return false;
      }
    }
    return allowed.length == asked.length;
  }
}
