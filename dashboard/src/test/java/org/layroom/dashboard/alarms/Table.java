package org.layroom.dashboard.alarms;

import java.util.List;
import java.util.Locale;
import java.util.OptionalLong;

/** The campaign's table, in Markdown. */
final class Table {
  private Table() {}

  static String of(List<Finding> findings) {
    StringBuilder text = new StringBuilder();
    text.append(
        "| scenario | sensor | floor | times somebody had to leave | missed | unknown then |"
            + " leave after, s | ventilate after, s | leaves | false | from nothing | unknown, % |"
            + " falls short |\n");
    text.append("|---|---|---|---|---|---|---|---|---|---|---|---|---|\n");
    for (Finding one : findings) {
      text.append(
          String.format(
              Locale.ROOT,
              "| %s | %s | %s | %d | %d | %d | %s | %s | %d | %d | %d | %.0f | %s |%n",
              one.scenario(),
              one.sensitivity() + (one.canTell() ? "" : " (cannot tell)"),
              one.floor(),
              one.dangers(),
              one.missed(),
              one.unknown(),
              one.dangers() > 0 ? seconds(one.leaveDelaySeconds(), "never") : "",
              one.airingDue() ? seconds(one.airingDelaySeconds(), "never") : "",
              one.leaves(),
              one.falseLeaves(),
              one.unannounced(),
              one.unknownPct(),
              one.fallsShort()));
    }
    text.append(sum(findings));
    return text.toString();
  }

  private static String sum(List<Finding> findings) {
    List<Finding> able = findings.stream().filter(Finding::canTell).toList();
    return String.format(
        Locale.ROOT,
        "%n%d of %d runs fall short: %d leaves missed of %d (sensors that can tell), %d runs with"
            + " more than one false leave a month, %d leaves from nothing.%n",
        findings.stream().filter(one -> !one.fallsShort().isEmpty()).count(),
        findings.size(),
        able.stream().mapToInt(Finding::missed).sum(),
        able.stream().mapToInt(Finding::dangers).sum(),
        findings.stream().filter(one -> one.falsePerMonth() > 1).count(),
        findings.stream().mapToInt(Finding::unannounced).sum());
  }

  private static String seconds(OptionalLong value, String none) {
    return value.isPresent() ? Long.toString(value.getAsLong()) : none;
  }
}
