package org.layroom.device.telemetry;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.regex.Pattern;

/**
 * Body of a {@code readings} message: SenML JSON (RFC 8428). Reading accepts any valid SenML pack
 * (base fields, a time per record, sums ignored); writing makes one pack per sample.
 */
public final class ReadingsBody {
  static final String OUTBOX = "outbox";
  static final String SEQUENCE = "sequence";
  static final String UPTIME = "uptime";
  static final String SENT_UPTIME = "sent-uptime";
  static final String LOST_FIRST = "sequence-lost-first";
  static final String LOST_LAST = "sequence-lost-last";
  static final String QUALITY_SUFFIX = "-quality";

  /** RFC 8428 section 4.5.3: smaller times are relative to now. 2**28. */
  private static final double FIRST_ABSOLUTE_TIME = 268_435_456;

  /** Times beyond the year 9999 are refused. */
  private static final double LAST_TIME = 253_402_300_799d;

  /** RFC 8428 section 4.4: the version of this pack format. */
  private static final int SENML_VERSION = 10;

  private static final int MOST_RECORDS = 2000;
  private static final Pattern NAME = Pattern.compile("[A-Za-z0-9][A-Za-z0-9:./_-]*");
  private static final Set<String> POSITIONAL =
      Set.of(OUTBOX, SEQUENCE, UPTIME, SENT_UPTIME, LOST_FIRST, LOST_LAST);

  private static final JsonMapper JSON = StrictJson.mapper(8);

  private ReadingsBody() {}

  /** The message as SenML JSON, with the channel's base name. */
  public static byte[] write(Channel channel, DeviceMessage message) {
    ByteArrayOutputStream out = new ByteArrayOutputStream(512);
    try (JsonGenerator json = JSON.createGenerator(out)) {
      json.writeStartArray();
      json.writeStartObject();
      json.writeStringField("bn", channel.baseName());
      if (message instanceof DeviceMessage.Sample sample) {
        writeSample(json, sample);
      } else if (message instanceof DeviceMessage.Lost lost) {
        json.writeStringField("n", OUTBOX);
        json.writeStringField("vs", lost.outbox());
        json.writeEndObject();
        number(json, LOST_FIRST, "", (double) lost.first());
        number(json, LOST_LAST, "", (double) lost.last());
      }
      json.writeEndArray();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return out.toByteArray();
  }

  private static void writeSample(JsonGenerator json, DeviceMessage.Sample sample)
      throws IOException {
    json.writeFieldName("bt");
    json.writeNumber(baseTime(sample.time()));
    boolean first = true;
    List<Entry> entries = new ArrayList<>();
    sample
        .position()
        .ifPresent(
            position -> {
              entries.add(Entry.text(OUTBOX, position.outbox()));
              entries.add(Entry.number(SEQUENCE, "", (double) position.sequence()));
            });
    sample.uptimeSeconds().ifPresent(s -> entries.add(Entry.number(UPTIME, "s", s)));
    sample.sentUptimeSeconds().ifPresent(s -> entries.add(Entry.number(SENT_UPTIME, "s", s)));
    for (Reading reading : sample.readings()) {
      reading.value().ifPresent(v -> entries.add(Entry.number(reading.name(), reading.unit(), v)));
      reading.text().ifPresent(text -> entries.add(Entry.text(reading.name(), text)));
      if (!reading.quality().isGood()) {
        entries.add(Entry.text(reading.name() + QUALITY_SUFFIX, reading.quality().words()));
      }
    }
    if (entries.isEmpty()) {
      throw new IllegalArgumentException("a sample needs at least one record");
    }
    for (Entry entry : entries) {
      if (!first) {
        json.writeStartObject();
      }
      first = false;
      entry.write(json);
      json.writeEndObject();
    }
  }

  private record Entry(String name, String unit, OptionalDouble number, String text) {
    static Entry number(String name, String unit, double value) {
      return new Entry(name, unit, OptionalDouble.of(value), "");
    }

    static Entry text(String name, String text) {
      return new Entry(name, "", OptionalDouble.empty(), text);
    }

    void write(JsonGenerator json) throws IOException {
      json.writeStringField("n", name);
      if (!unit.isEmpty()) {
        json.writeStringField("u", unit);
      }
      if (number.isPresent()) {
        json.writeFieldName("v");
        writePlain(json, number.getAsDouble());
      } else {
        json.writeStringField("vs", text);
      }
    }
  }

  private static void number(JsonGenerator json, String name, String unit, double value)
      throws IOException {
    json.writeStartObject();
    Entry.number(name, unit, value).write(json);
    json.writeEndObject();
  }

  private static void writePlain(JsonGenerator json, double value) throws IOException {
    if (!Double.isFinite(value)) {
      throw new IllegalArgumentException("a reading must be a finite number, not " + value);
    }
    if (value == Math.rint(value) && Math.abs(value) < 1e15) {
      json.writeNumber((long) value);
    } else {
      json.writeNumber(value);
    }
  }

  private static BigDecimal baseTime(SampleTime time) {
    if (time instanceof SampleTime.At at) {
      return seconds(at.instant().toEpochMilli());
    }
    return seconds(-((SampleTime.Ago) time).duration().toMillis());
  }

  private static BigDecimal seconds(long millis) {
    return millis % 1000 == 0 ? BigDecimal.valueOf(millis / 1000) : BigDecimal.valueOf(millis, 3);
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
    Resolver resolver = new Resolver(channel);
    Map<Double, Pending> byTime = new LinkedHashMap<>();
    for (JsonNode node : pack) {
      Optional<Resolved> resolved = resolver.next(node);
      if (resolved.isPresent()) {
        Resolved record = resolved.get();
        byTime.computeIfAbsent(record.time(), Pending::new).add(record);
      }
    }
    List<DeviceMessage> messages = new ArrayList<>();
    for (Pending pending : byTime.values()) {
      messages.add(pending.message());
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

  private record Resolved(
      String name, double time, String unit, OptionalDouble number, Optional<String> text) {}

  /** Carries the base fields from record to record (RFC 8428 section 4.6, resolved records). */
  private static final class Resolver {
    private final Channel channel;
    private String baseName = "";
    private double baseTime;
    private String baseUnit = "";
    private double baseValue;

    Resolver(Channel channel) {
      this.channel = channel;
    }

    Optional<Resolved> next(JsonNode node) throws MalformedMessage {
      if (!node.isObject()) {
        throw new MalformedMessage("a SenML record is a JSON object");
      }
      takeBases(node);
      boolean hasValue = node.has("v") || node.has("vs") || node.has("vb") || node.has("vd");
      if (!hasValue) {
        if (node.has("n") && !node.has("s")) {
          throw new MalformedMessage("record without a value: " + name(node));
        }
        return Optional.empty();
      }
      double time = baseTime + number(node, "t", 0);
      if (!Double.isFinite(time) || time > LAST_TIME) {
        throw new MalformedMessage("time " + time + " s is out of range");
      }
      OptionalDouble value = OptionalDouble.empty();
      Optional<String> text = Optional.empty();
      if (node.has("v")) {
        double sum = baseValue + number(node, "v", 0);
        value = OptionalDouble.of(sum);
      } else if (node.has("vs")) {
        text = Optional.of(string(node, "vs", ""));
      } else if (node.has("vb")) {
        if (!node.get("vb").isBoolean()) {
          throw new MalformedMessage("field vb must be true or false");
        }
        text = Optional.of(node.get("vb").asText());
      } else {
        text = Optional.of(string(node, "vd", ""));
      }
      return Optional.of(new Resolved(name(node), time, string(node, "u", baseUnit), value, text));
    }

    private void takeBases(JsonNode node) throws MalformedMessage {
      var fields = node.fieldNames();
      while (fields.hasNext()) {
        String field = fields.next();
        if (field.endsWith("_")) {
          throw new MalformedMessage("field " + field + " must be understood and is not");
        }
      }
      if (number(node, "bver", SENML_VERSION) > SENML_VERSION) {
        throw new MalformedMessage("SenML version " + node.get("bver") + " is too new");
      }
      baseName = string(node, "bn", baseName);
      baseTime = number(node, "bt", baseTime);
      baseUnit = string(node, "bu", baseUnit);
      baseValue = number(node, "bv", baseValue);
    }

    private String name(JsonNode node) throws MalformedMessage {
      String full = baseName + string(node, "n", "");
      if (!NAME.matcher(full).matches()) {
        throw new MalformedMessage("name \"" + full + "\" has characters SenML does not allow");
      }
      if (!full.startsWith(channel.baseName())) {
        throw new MalformedMessage(
            "name \"" + full + "\" does not belong to the topic's device " + channel.baseName());
      }
      String name = full.substring(channel.baseName().length());
      if (name.isEmpty() || name.length() > 64) {
        throw new MalformedMessage("name \"" + full + "\" must have 1 to 64 characters of its own");
      }
      return name;
    }

    private static double number(JsonNode node, String field, double otherwise)
        throws MalformedMessage {
      JsonNode value = node.get(field);
      if (value == null) {
        return otherwise;
      }
      if (!value.isNumber() || !Double.isFinite(value.doubleValue())) {
        throw new MalformedMessage("field " + field + " must be a finite number");
      }
      return value.doubleValue();
    }

    private static String string(JsonNode node, String field, String otherwise)
        throws MalformedMessage {
      JsonNode value = node.get(field);
      if (value == null) {
        return otherwise;
      }
      if (!value.isTextual()) {
        throw new MalformedMessage("field " + field + " must be text");
      }
      return value.textValue();
    }
  }

  /** All records of one moment, before they are put together. */
  private static final class Pending {
    private final double time;
    private final Map<String, Resolved> records = new LinkedHashMap<>();

    Pending(double time) {
      this.time = time;
    }

    void add(Resolved record) {
      records.putIfAbsent(record.name(), record);
    }

    DeviceMessage message() throws MalformedMessage {
      Optional<String> outbox = text(OUTBOX);
      if (records.containsKey(LOST_FIRST) || records.containsKey(LOST_LAST)) {
        return new DeviceMessage.Lost(
            outbox.orElseThrow(() -> new MalformedMessage("lost range without an outbox")),
            whole(LOST_FIRST),
            checkedLast());
      }
      Optional<Position> position = Optional.empty();
      if (outbox.isPresent() || records.containsKey(SEQUENCE)) {
        if (outbox.isEmpty() || !records.containsKey(SEQUENCE)) {
          throw new MalformedMessage("outbox and sequence belong together");
        }
        if (outbox.get().isEmpty() || outbox.get().length() > 64) {
          throw new MalformedMessage("outbox name must have 1 to 64 characters");
        }
        position = Optional.of(new Position(outbox.get(), whole(SEQUENCE)));
      }
      return new DeviceMessage.Sample(
          sampleTime(), position, number(UPTIME), number(SENT_UPTIME), readings());
    }

    private long checkedLast() throws MalformedMessage {
      long last = whole(LOST_LAST);
      if (last < whole(LOST_FIRST)) {
        throw new MalformedMessage("lost range ends before it starts");
      }
      return last;
    }

    private SampleTime sampleTime() {
      if (time < FIRST_ABSOLUTE_TIME) {
        return new SampleTime.Ago(Duration.ofMillis(Math.round(-time * 1000)));
      }
      return new SampleTime.At(Instant.ofEpochMilli(Math.round(time * 1000)));
    }

    private List<Reading> readings() {
      Map<String, String> qualities = new LinkedHashMap<>();
      for (Resolved record : records.values()) {
        if (record.name().endsWith(QUALITY_SUFFIX) && record.text().isPresent()) {
          qualities.put(
              record.name().substring(0, record.name().length() - QUALITY_SUFFIX.length()),
              record.text().get());
        }
      }
      List<Reading> readings = new ArrayList<>();
      for (Resolved record : records.values()) {
        if (POSITIONAL.contains(record.name())
            || (record.name().endsWith(QUALITY_SUFFIX) && record.text().isPresent())) {
          continue;
        }
        String words = qualities.remove(record.name());
        Quality quality = words == null ? Quality.good() : Quality.parse(words);
        OptionalDouble value =
            quality instanceof Quality.Fault ? OptionalDouble.empty() : record.number();
        readings.add(new Reading(record.name(), record.unit(), value, record.text(), quality));
      }
      qualities.forEach((name, words) -> withoutValue(name, Quality.parse(words), readings));
      return readings;
    }

    /** A fault or doubt stands without a value; "good" alone says nothing, and is no reading. */
    private static void withoutValue(String name, Quality quality, List<Reading> readings) {
      if (!quality.isGood()) {
        readings.add(new Reading(name, "", OptionalDouble.empty(), Optional.empty(), quality));
      }
    }

    private OptionalDouble number(String name) throws MalformedMessage {
      Resolved record = records.get(name);
      OptionalDouble number = record == null ? OptionalDouble.empty() : record.number();
      if (Double.isInfinite(number.orElse(0))) {
        throw new MalformedMessage(name + " and its base value must add up to a finite number");
      }
      return number;
    }

    private Optional<String> text(String name) {
      Resolved record = records.get(name);
      return record == null ? Optional.empty() : record.text();
    }

    private long whole(String name) throws MalformedMessage {
      OptionalDouble number = number(name);
      if (number.isEmpty()
          || number.getAsDouble() < 1
          || number.getAsDouble() > 9e15
          || number.getAsDouble() != Math.rint(number.getAsDouble())) {
        throw new MalformedMessage(name + " must be a whole number of 1 or more");
      }
      return (long) number.getAsDouble();
    }
  }
}
