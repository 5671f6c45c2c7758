package org.layroom.device.telemetry;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Body of a {@code readings} message: SenML JSON (RFC 8428). Reading accepts any valid SenML pack
 * (base fields, a time per record, sums ignored); writing makes one pack per sample.
 */
public final class ReadingsBody {
  private static final int MOST_RECORDS = 2000;
  private static final JsonMapper JSON = StrictJson.mapper(8);

  private ReadingsBody() {}

  /** The message as SenML JSON, with the channel's base name. */
  public static byte[] write(Channel channel, DeviceMessage message) {
    return ReadingsWriter.write(channel, message);
  }

  /**
   * Reads a SenML pack: one sample for each time in it, in the pack's order, or one lost range.
   *
   * @throws MalformedMessage when it is not valid SenML, names another device than the channel, or
   *     its outbox records do not fit together
   */
  public static List<DeviceMessage> read(Channel channel, byte[] body) throws MalformedMessage {
    if (body.length > Topic.LARGEST_MESSAGE_BYTES) {
      throw new MalformedMessage(
          "message of " + body.length + " bytes: the largest is " + Topic.LARGEST_MESSAGE_BYTES);
    }
    JsonNode pack;
    try {
      pack = JSON.readTree(body);
    } catch (IOException e) {
      throw new MalformedMessage("not JSON: " + firstLine(e), e);
    }
    if (pack == null || !pack.isArray() || pack.isEmpty()) {
      throw new MalformedMessage("a SenML pack is a JSON array with at least one record");
    }
    if (pack.size() > MOST_RECORDS) {
      throw new MalformedMessage("more than " + MOST_RECORDS + " records in one message");
    }
    SenmlResolver resolver = new SenmlResolver(channel);
    Map<Double, MomentRecords> byTime = new LinkedHashMap<>();
    for (JsonNode node : pack) {
      Optional<SenmlRecord> resolved = resolver.next(node);
      if (resolved.isPresent()) {
        SenmlRecord record = resolved.get();
        byTime.computeIfAbsent(record.time(), MomentRecords::new).add(record);
      }
    }
    List<DeviceMessage> messages = new ArrayList<>();
    for (MomentRecords moment : byTime.values()) {
      messages.add(moment.message());
    }
    long positioned = messages.stream().filter(ReadingsBody::hasPosition).count();
    if (positioned > 0 && messages.size() > 1) {
      throw new MalformedMessage("a pack with a sequence number must hold one moment only");
    }
    return messages;
  }

  private static boolean hasPosition(DeviceMessage message) {
    return !(message instanceof DeviceMessage.Sample sample) || sample.position().isPresent();
  }

  private static String firstLine(Exception e) {
    String message = String.valueOf(e.getMessage());
    int end = message.indexOf('\n');
    String line = end < 0 ? message : message.substring(0, end);
    return line.length() > 200 ? line.substring(0, 200) + "…" : line;
  }
}
