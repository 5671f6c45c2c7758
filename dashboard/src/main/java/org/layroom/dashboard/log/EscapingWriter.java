package org.layroom.dashboard.log;

import java.io.PrintStream;
import java.util.EnumSet;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.tinylog.core.LogEntry;
import org.tinylog.core.LogEntryValue;
import org.tinylog.writers.AbstractFormatPatternWriter;

/**
 * Writes the log to standard error, one line an entry. Texts from outside come into messages and
 * into those of exceptions: user names, topics, units, names of records. Here, in the one place
 * that all of them pass, control and formatting characters are written as escapes, and what is too
 * long is cut; so nobody forges a line, commands a terminal, or fills the log with one word.
 */
public final class EscapingWriter extends AbstractFormatPatternWriter {
  private static final int LONGEST = 1000;
  private static final int MOST_FRAMES = 40;
  private static final int MOST_CAUSES = 5;

  private final PrintStream out;

  /** As the log's library makes one. */
  public EscapingWriter(Map<String, String> properties) {
    this(properties, System.err);
  }

  EscapingWriter(Map<String, String> properties, PrintStream out) {
    super(properties);
    this.out = out;
  }

  @Override
  public Set<LogEntryValue> getRequiredLogEntryValues() {
    Set<LogEntryValue> values = EnumSet.copyOf(super.getRequiredLogEntryValues());
    values.add(LogEntryValue.EXCEPTION);
    return values;
  }

  @Override
  public void write(LogEntry entry) {
    LogEntry plain =
        new LogEntry(
            entry.getTimestamp(),
            entry.getThread(),
            entry.getContext(),
            entry.getClassName(),
            entry.getMethodName(),
            entry.getFileName(),
            entry.getLineNumber(),
            entry.getTag(),
            entry.getLevel(),
            escaped(entry.getMessage()),
            null);
    StringBuilder text = new StringBuilder(render(plain));
    Throwable cause = entry.getException();
    for (int i = 0; cause != null && i < MOST_CAUSES; i++) {
      describe(cause, text);
      cause = cause.getCause();
    }
    out.print(text);
    out.flush();
  }

  private static void describe(Throwable cause, StringBuilder text) {
    text.append("  ").append(cause.getClass().getName()).append(": ");
    text.append(escaped(cause.getMessage())).append(System.lineSeparator());
    StackTraceElement[] frames = cause.getStackTrace();
    for (int i = 0; i < Math.min(MOST_FRAMES, frames.length); i++) {
      text.append("    at ").append(frames[i]).append(System.lineSeparator());
    }
  }

  /** The same text on one line, of characters that only show themselves. */
  static String escaped(@Nullable String text) {
    if (text == null) {
      return "";
    }
    StringBuilder plain = new StringBuilder();
    int end = Math.min(LONGEST, text.length());
    for (int i = 0; i < end; i++) {
      char one = text.charAt(i);
      if (shows(one, text, i)) {
        plain.append(one);
      } else if (one == '\n') {
        plain.append("\\n");
      } else {
        plain.append("\\u").append("%04x".formatted((int) one));
      }
    }
    if (end < text.length()) {
      plain.append("... (").append(text.length()).append(" characters)");
    }
    return plain.toString();
  }

  private static boolean shows(char one, String text, int at) {
    if (Character.isHighSurrogate(one)) {
      return at + 1 < text.length() && Character.isLowSurrogate(text.charAt(at + 1));
    }
    if (Character.isLowSurrogate(one)) {
      return at > 0 && Character.isHighSurrogate(text.charAt(at - 1));
    }
    return switch (Character.getType(one)) {
      case Character.CONTROL,
          Character.FORMAT,
          Character.LINE_SEPARATOR,
          Character.PARAGRAPH_SEPARATOR,
          Character.UNASSIGNED,
          Character.PRIVATE_USE ->
          false;
      default -> true;
    };
  }

  @Override
  public void flush() {
    out.flush();
  }

  @Override
  public void close() {
    out.flush();
  }
}
