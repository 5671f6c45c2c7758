package org.layroom.dashboard.config;

import java.util.List;

/** Settings that cannot be used: every problem found, each naming the key and what to change. */
public final class InvalidSettings extends Exception {
  private final List<String> problems;

  public InvalidSettings(List<String> problems) {
    super(String.join("\n", problems));
    this.problems = List.copyOf(problems);
  }

  public List<String> problems() {
    return problems;
  }
}
