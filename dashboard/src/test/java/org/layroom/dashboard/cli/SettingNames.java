package org.layroom.dashboard.cli;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Settings of both programs, as each names them when it refuses one that it does not know. */
final class SettingNames {
  private static final Pattern KNOWN = Pattern.compile("(?:use one of|known are|there are) (.+)");

  private SettingNames() {}

  /**
   * Asks both.
   *
   * @param folder for a settings file that neither can use
   */
  static Set<String> all(Path folder) throws IOException, InterruptedException {
    Path file = Files.writeString(folder.resolve("wrong.properties"), "no-such-setting=1\n");
    Set<String> names = new TreeSet<>();
    Typed dashboard = Typed.run("serve --config " + file);
    names.add("exit " + dashboard.status() + " serve: no such setting");
    keep("dashboard", dashboard.err(), names);
    Process device =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-jar",
                ShippedJars.DEVICE.toString(),
                "--config",
                file.toString())
            .redirectErrorStream(true)
            .start();
    String said = new String(device.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    names.add("exit " + device.waitFor() + " layroom-device: no such setting");
    keep("device", said, names);
    return names;
  }

  private static void keep(String program, String said, Set<String> names) {
    Matcher known = KNOWN.matcher(said);
    if (!known.find()) {
      throw new AssertionError("no settings are named in: " + said);
    }
    for (String key : known.group(1).split(", ", -1)) {
      names.add("setting " + program + " " + key.strip());
    }
  }
}
