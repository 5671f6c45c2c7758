package org.layroom.predictor.verdict;

/** The four answers of the mix check, weakest claim to mixing last. */
public enum State {
  MIX("mix", "ready to mix"),
  UNKNOWN("unknown", "unknown"),
  WAIT("wait", "wait"),
  NO("no", "don't mix yet");

  private final String id;
  private final String words;

  State(String id, String words) {
    this.id = id;
    this.words = words;
  }

  /** The name in JSON. */
  public String id() {
    return id;
  }

  /** The words on the page. */
  public String words() {
    return words;
  }

  /** The one that outranks: no, then wait, then unknown, then mix. */
  public State worse(State other) {
    return compareTo(other) >= 0 ? this : other;
  }
}
