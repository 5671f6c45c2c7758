package org.layroom.device.supervision;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/** A systemd that only listens, for tests. */
public final class SupervisionWords {
  private final List<String> words = new ArrayList<>();
  private final Supervision supervision;

  public SupervisionWords(Duration patience) {
    supervision =
        new Supervision(
            Map.of(
                "NOTIFY_SOCKET",
                "/run/systemd/notify",
                "WATCHDOG_USEC",
                patience.toMillis() + "000"),
            command -> words.add(command.get(1)));
  }

  public Supervision supervision() {
    return supervision;
  }

  public List<String> all() {
    return List.copyOf(words);
  }
}
