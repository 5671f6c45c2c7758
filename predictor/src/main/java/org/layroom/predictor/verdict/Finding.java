package org.layroom.predictor.verdict;

/** What one reason says. {@code WARN} is told but does not change the verdict. */
public enum Finding {
  OK("ok", State.MIX),
  WARN("warn", State.MIX),
  UNKNOWN("unknown", State.UNKNOWN),
  WAIT("wait", State.WAIT),
  NO("no", State.NO);

  private final String id;
  private final State state;

  Finding(String id, State state) {
    this.id = id;
    this.state = state;
  }

  /** The name in JSON. */
  public String id() {
    return id;
  }

  /** The verdict that this finding alone would give. */
  public State state() {
    return state;
  }
}
