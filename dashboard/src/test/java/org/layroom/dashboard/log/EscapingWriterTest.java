package org.layroom.dashboard.log;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.tinylog.Level;
import org.tinylog.core.LogEntry;

/** Whatever a text from outside holds, it is part of one line of the log and shows only itself. */
class EscapingWriterTest {
  private static String written(String message, @Nullable Throwable cause) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    EscapingWriter writer =
        new EscapingWriter(
            Map.of("format", "{level} {message}"),
            new PrintStream(bytes, true, StandardCharsets.UTF_8));
    writer.write(
        new LogEntry(
            null, null, Map.of(), "A", "b", "A.java", 1, null, Level.WARN, message, cause));
    writer.close();
    return bytes.toString(StandardCharsets.UTF_8);
  }

  @Test
  void lineFeedsEscapesAndMarksOfDirectionAreWrittenOut() {
    assertEquals(
        "WARN user \"x\\n2026-01-01 ERROR forged\\u000d\\u001b[2J\\u202e\\u0085\\u2028\" ü °C",
        written("user \"x\n2026-01-01 ERROR forged\r\u001b[2J\u202e\u0085\u2028\" ü °C", null)
            .stripTrailing());
  }

  @Test
  void whatIsTooLongIsCutAndItsLengthSaid() {
    String line = written("x".repeat(100_000), null);
    assertTrue(line.length() < 1100, "length " + line.length());
    assertTrue(line.contains("100000 characters"));
  }

  @Test
  void theMessageOfAnExceptionForgesNoLineEither() {
    String text =
        written("failed", new IllegalStateException("a\nERROR b", new RuntimeException("c\r\nd")));
    assertTrue(text.lines().skip(1).allMatch(line -> line.startsWith("  ")), text);
    assertTrue(text.contains("a\\nERROR b") && text.contains("c\\u000d\\nd"), text);
  }

  @Property(tries = 300)
  void noTextBreaksALineOrHoldsAControlCharacter(@ForAll String text) {
    String escaped = EscapingWriter.escaped(text);
    assertFalse(escaped.codePoints().anyMatch(Character::isISOControl));
    assertFalse(escaped.contains("\u2028") || escaped.contains("\u2029"));
  }
}
