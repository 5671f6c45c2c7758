package org.layroom.dashboard.ingest;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.store.RejectedReading;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.ReadingsBody;
import org.layroom.device.telemetry.Topic;

/** Turns one message into what is to be stored, or counts why not. Never throws. */
final class MessageReader {
  private static final JsonMapper JSON = new JsonMapper();

  private final IngestTally tally;
  private final SeriesCap cap;

  MessageReader(IngestTally tally, SeriesCap cap) {
    this.tally = tally;
    this.cap = cap;
  }

  /** Whether a message is larger than the contract allows; counted when it is. */
  boolean oversized(Inbound inbound) {
    if (inbound.body().length <= Topic.LARGEST_MESSAGE_BYTES) {
      return false;
    }
    tally.refuse(Rejection.OVERSIZED, inbound.topic(), "Message over 65536 bytes refused");
    return true;
  }

  /** Whether a body is an alarm; one that is emptied is not, and one that is wrong is counted. */
  boolean isAlarm(Inbound inbound) {
    if (inbound.body().length == 0) {
      return false;
    }
    try {
      AlarmState.read(inbound.body());
      return true;
    } catch (MalformedMessage e) {
      tally.refuse(
          Rejection.MALFORMED, inbound.topic(), "The alarm cannot be read: " + e.getMessage());
      return false;
    }
  }

  List<StoreEntry> entries(Channel.Addressed addressed, Inbound inbound) {
    Optional<String> tooMany = cap.objection(addressed.channel());
    if (tooMany.isPresent()) {
      tally.refuse(Rejection.TOO_MANY, inbound.topic(), "Message ignored: " + tooMany.get());
      return List.of();
    }
    try {
      return switch (addressed.kind()) {
        case READINGS -> readings(addressed.channel(), inbound);
        case STATUS -> status(addressed.channel(), inbound);
        case STORED, SETTINGS, ALARM, ACKNOWLEDGE -> List.of();
      };
    } catch (MalformedMessage e) {
      Rejection reason =
          addressed.kind() == Topic.READINGS && namesAnother(addressed.channel(), inbound.body())
              ? Rejection.SPOOFED
              : Rejection.MALFORMED;
      tally.refuse(reason, inbound.topic(), "Message refused: " + e.getMessage());
      return List.of();
    }
  }

  private static List<StoreEntry> status(Channel channel, Inbound inbound) throws MalformedMessage {
    return inbound.body().length == 0
        ? List.of()
        : List.of(
            new StoreEntry.Status(channel, DeviceStatus.read(inbound.body()), inbound.received()));
  }

  private List<StoreEntry> readings(Channel channel, Inbound inbound) throws MalformedMessage {
    List<StoreEntry> entries = new ArrayList<>();
    for (DeviceMessage message : ReadingsBody.read(channel, inbound.body())) {
      if (message instanceof DeviceMessage.Lost lost) {
        entries.add(
            new StoreEntry.Lost(
                channel, lost.outbox(), lost.first(), lost.last(), inbound.received()));
      } else if (message instanceof DeviceMessage.Sample sample) {
        entries.add(sample(channel, inbound, sample));
      }
    }
    return entries;
  }

  private StoreEntry.Sample sample(Channel channel, Inbound inbound, DeviceMessage.Sample sample) {
    SampleTimes times = SampleClock.times(sample, inbound.received(), inbound.linkedSince());
    if (!times.original().equals(times.corrected())) {
      tally.correctedClock();
    }
    Optional<String> badTime = SampleClock.objection(sample);
    List<Reading> possible = new ArrayList<>();
    List<RejectedReading> rejected = new ArrayList<>();
    for (Reading reading : sample.readings()) {
      Optional<String> impossible = badTime.or(() -> PossibleValues.objection(reading));
      Optional<String> tooMany =
          impossible.isPresent() ? Optional.empty() : cap.objection(channel, reading.name());
      if (impossible.isPresent()) {
        tally.refuse(
            Rejection.IMPOSSIBLE, inbound.topic(), "Value stored as rejected: " + impossible.get());
        rejected.add(new RejectedReading(reading, impossible.get()));
      } else if (tooMany.isPresent()) {
        tally.refuse(Rejection.TOO_MANY, inbound.topic(), "Value ignored: " + tooMany.get());
      } else {
        possible.add(reading);
      }
    }
    return new StoreEntry.Sample(channel, sample.position(), times, possible, rejected);
  }

  /** Whether a refused body speaks in the name of another device. */
  private static boolean namesAnother(Channel channel, byte[] body) {
    try {
      String baseName = "";
      for (JsonNode item : JSON.readTree(body)) {
        baseName = item.path("bn").asText(baseName);
        String full = baseName + item.path("n").asText();
        if (full.startsWith("layroom/") && !full.startsWith(channel.baseName())) {
          return true;
        }
      }
      return false;
    } catch (IOException e) {
      return false;
    }
  }
}
