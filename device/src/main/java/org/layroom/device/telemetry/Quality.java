package org.layroom.device.telemetry;

/** How far a reading can be believed, with the reason in words when it is not good. */
public sealed interface Quality {

  /** Nothing speaks against the value. */
  record Good() implements Quality {}

  /** There is a value, but something speaks against it. */
  record Suspect(String reason) implements Quality {}

  /** There is no value that could be believed. */
  record Fault(String reason) implements Quality {}

  static Quality good() {
    return new Good();
  }

  static Quality suspect(String reason) {
    return new Suspect(reason);
  }

  static Quality fault(String reason) {
    return new Fault(reason);
  }

  default boolean isGood() {
    return this instanceof Good;
  }

  /** As written in a {@code <name>-quality} record: {@code good}, or mark, colon and reason. */
  default String words() {
    if (this instanceof Suspect suspect) {
      return "suspect: " + suspect.reason();
    }
    return this instanceof Fault fault ? "fault: " + fault.reason() : "good";
  }

  /** Reads what {@link #words()} wrote. Any other text counts as suspect, with it as the reason. */
  static Quality parse(String words) {
    if (words.equals("good")) {
      return good();
    }
    if (words.startsWith("fault:")) {
      return fault(words.substring("fault:".length()).strip());
    }
    return suspect(
        words.startsWith("suspect:") ? words.substring("suspect:".length()).strip() : words);
  }
}
