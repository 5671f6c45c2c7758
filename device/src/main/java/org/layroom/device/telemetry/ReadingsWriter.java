package org.layroom.device.telemetry;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;

/** Writes a message as a SenML pack of its own (RFC 8428), with the channel's base name. */
final class ReadingsWriter {
  private static final JsonMapper JSON = StrictJson.mapper(8);

  private ReadingsWriter() {}

  static byte[] write(Channel channel, DeviceMessage message) {
    ByteArrayOutputStream out = new ByteArrayOutputStream(512);
    try (JsonGenerator json = JSON.createGenerator(out)) {
      json.writeStartArray();
      json.writeStartObject();
      json.writeStringField("bn", channel.baseName());
      if (message instanceof DeviceMessage.Sample sample) {
        writeSample(json, sample);
      } else if (message instanceof DeviceMessage.Lost lost) {
        json.writeStringField("n", RecordNames.OUTBOX);
        json.writeStringField("vs", lost.outbox());
        json.writeEndObject();
        number(json, RecordNames.LOST_FIRST, "", (double) lost.first());
        number(json, RecordNames.LOST_LAST, "", (double) lost.last());
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
              entries.add(Entry.text(RecordNames.OUTBOX, position.outbox()));
              entries.add(Entry.number(RecordNames.SEQUENCE, "", (double) position.sequence()));
            });
    sample.uptimeSeconds().ifPresent(s -> entries.add(Entry.number(RecordNames.UPTIME, "s", s)));
    sample
        .sentUptimeSeconds()
        .ifPresent(s -> entries.add(Entry.number(RecordNames.SENT_UPTIME, "s", s)));
    for (Reading reading : sample.readings()) {
      reading.value().ifPresent(v -> entries.add(Entry.number(reading.name(), reading.unit(), v)));
      reading.text().ifPresent(text -> entries.add(Entry.text(reading.name(), text)));
      if (!reading.quality().isGood()) {
        entries.add(
            Entry.text(reading.name() + RecordNames.QUALITY_SUFFIX, reading.quality().words()));
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
}
