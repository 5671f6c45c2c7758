package org.layroom.device.telemetry;

import com.code_intelligence.jazzer.junit.FuzzTest;
import com.code_intelligence.jazzer.mutation.annotation.NotNull;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Bytes from the broker: a message or {@link MalformedMessage}, never anything else; a number that
 * is none (a sum that overflowed) is turned away as impossible further on. The first byte chooses
 * the topic.
 */
class TelemetryFuzz {
  private static final Channel CHANNEL = Channel.of("shop", "bench");

  @FuzzTest
  void messages(byte @NotNull [] bytes) {
    if (bytes.length == 0) {
      return;
    }
    byte[] body = Arrays.copyOfRange(bytes, 1, bytes.length);
    try {
      switch (bytes[0] & 7) {
        case 0 -> DeviceStatus.read(body);
        case 1 -> StoredMark.read(body);
        case 2 -> Acknowledgment.read(body);
        case 3 -> AlarmState.read(body);
        case 4 -> DeviceSettings.read(body);
        case 6 -> RoomVerdict.read(body);
        default -> readings(body);
      }
    } catch (MalformedMessage e) {
      if (e.getMessage() == null || e.getMessage().isBlank()) {
        throw new AssertionError("refused without a reason", e);
      }
    }
  }

  /** What was understood says the same when it is written and read again. */
  private static void readings(byte[] body) throws MalformedMessage {
    List<DeviceMessage> first = ReadingsBody.read(CHANNEL, body);
    for (DeviceMessage message : first) {
      if (message instanceof DeviceMessage.Sample sample) {
        boolean something = !sample.readings().isEmpty() || sample.position().isPresent();
        if (something && sample.readings().stream().allMatch(TelemetryFuzz::finite)) {
          again(message);
        }
      }
    }
  }

  private static void again(DeviceMessage message) throws MalformedMessage {
    byte[] written = ReadingsBody.write(CHANNEL, message);
    if (written.length > Topic.LARGEST_MESSAGE_BYTES) {
      return;
    }
    List<DeviceMessage> read = new ArrayList<>(ReadingsBody.read(CHANNEL, written));
    if (read.size() != 1) {
      throw new AssertionError(message + " became " + read);
    }
  }

  private static boolean finite(Reading reading) {
    return Double.isFinite(reading.value().orElse(0));
  }
}
