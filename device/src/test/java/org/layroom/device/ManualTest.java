package org.layroom.device;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.layroom.device.startup.DeviceMain;

/** The manual page and {@code --help} name the same commands and options. */
class ManualTest {
  private static final Pattern IN_HELP =
      Pattern.compile("(?m)^  ((?:--)?[a-z]+)(?: (?:FILE|URL))?  ");
  private static final Pattern IN_MANUAL = Pattern.compile("(?m)^\\.TP\\R\\.BI? ([-a-z\\\\]+)");

  private static Set<String> found(Pattern pattern, String text) {
    Set<String> words = new TreeSet<>();
    for (Matcher matcher = pattern.matcher(text); matcher.find(); ) {
      words.add(matcher.group(1).replace("\\", ""));
    }
    return words;
  }

  @Test
  void everyCommandAndOptionStandsInBoth() throws IOException {
    String manual = Files.readString(Path.of("src", "deb", "layroom-device.1"));
    String options =
        manual.substring(manual.indexOf(".SH OPTIONS"), manual.indexOf(".SH EXIT STATUS"));
    Set<String> help = found(IN_HELP, DeviceMain.USAGE);
    assertEquals(
        Set.of("check", "pair", "dark", "rehearse", "--config", "--page", "--simulate", "--help"),
        help);
    assertEquals(help, found(IN_MANUAL, options));
  }
}
