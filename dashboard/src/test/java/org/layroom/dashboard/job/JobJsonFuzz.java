package org.layroom.dashboard.job;

import com.code_intelligence.jazzer.junit.FuzzTest;
import com.code_intelligence.jazzer.mutation.annotation.NotNull;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.util.Set;
import org.layroom.device.telemetry.StrictJson;

/**
 * Any body posted as an event of a job: an event that is the same when kept and read, or reasons.
 */
class JobJsonFuzz {
  /** As the web server reads a body. */
  private static final JsonMapper JSON = StrictJson.mapper(16);

  @FuzzTest
  void bodies(byte @NotNull [] bytes) {
    JsonNode node;
    try {
      node = JSON.readTree(bytes);
    } catch (IOException e) {
      return;
    }
    if (node == null || !node.isObject()) {
      return;
    }
    JobJson.Parsed parsed = JobJson.read(node, Set.of("id", "seen"));
    if (parsed.event().isEmpty() || !parsed.refused().isEmpty()) {
      if (parsed.refused().isEmpty()) {
        throw new AssertionError("neither an event nor a reason");
      }
      return;
    }
    JobEvent event = parsed.event().get();
    JobJson.Parsed again = JobJson.read(JobJson.write(event), Set.of());
    if (!again.event().equals(parsed.event())) {
      throw new AssertionError(event + " became " + again);
    }
  }
}
