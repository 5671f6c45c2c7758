package org.layroom.device.telemetry;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** All records of one moment, before they are put together. */
final class MomentRecords {
  /** RFC 8428 section 4.5.3: smaller times are relative to now. 2**28. */
  private static final double FIRST_ABSOLUTE_TIME = 268_435_456;

  private final double time;
  private final Map<String, SenmlRecord> records = new LinkedHashMap<>();

  MomentRecords(double time) {
    this.time = time;
  }

  void add(SenmlRecord record) {
    records.putIfAbsent(record.name(), record);
  }

  DeviceMessage message() throws MalformedMessage {
    Optional<String> outbox = text(RecordNames.OUTBOX);
    if (records.containsKey(RecordNames.LOST_FIRST) || records.containsKey(RecordNames.LOST_LAST)) {
      return new DeviceMessage.Lost(
          outbox.orElseThrow(() -> new MalformedMessage("lost range without an outbox")),
          whole(RecordNames.LOST_FIRST),
          checkedLast());
    }
    Optional<OutboxPosition> position = Optional.empty();
    if (outbox.isPresent() || records.containsKey(RecordNames.SEQUENCE)) {
      if (outbox.isEmpty() || !records.containsKey(RecordNames.SEQUENCE)) {
        throw new MalformedMessage("outbox and sequence belong together");
      }
      if (outbox.get().isEmpty() || outbox.get().length() > 64) {
        throw new MalformedMessage("outbox name must have 1 to 64 characters");
      }
      position = Optional.of(new OutboxPosition(outbox.get(), whole(RecordNames.SEQUENCE)));
    }
    return new DeviceMessage.Sample(
        sampleTime(),
        position,
        number(RecordNames.UPTIME),
        number(RecordNames.SENT_UPTIME),
        readings());
  }

  private long checkedLast() throws MalformedMessage {
    long last = whole(RecordNames.LOST_LAST);
    if (last < whole(RecordNames.LOST_FIRST)) {
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
    for (SenmlRecord record : records.values()) {
      if (record.name().endsWith(RecordNames.QUALITY_SUFFIX) && record.text().isPresent()) {
        qualities.put(
            record
                .name()
                .substring(0, record.name().length() - RecordNames.QUALITY_SUFFIX.length()),
            record.text().get());
      }
    }
    List<Reading> readings = new ArrayList<>();
    for (SenmlRecord record : records.values()) {
      if (RecordNames.POSITIONAL.contains(record.name())
          || (record.name().endsWith(RecordNames.QUALITY_SUFFIX) && record.text().isPresent())) {
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
    SenmlRecord record = records.get(name);
    OptionalDouble number = record == null ? OptionalDouble.empty() : record.number();
    if (Double.isInfinite(number.orElse(0))) {
      throw new MalformedMessage(name + " and its base value must add up to a finite number");
    }
    return number;
  }

  private Optional<String> text(String name) {
    SenmlRecord record = records.get(name);
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
