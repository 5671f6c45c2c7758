package org.layroom.device.outbox;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.zip.CRC32C;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;

/**
 * One record on disk: start mark, length, CRC-32C of length and payload (RFC 3720 appendix B.4
 * names this polynomial), payload. The start mark lets a reader find the next record after damage.
 */
final class RecordFormat {
  static final int START = 0x4C_B7_0E_01;
  static final int HEADER_BYTES = 12;
  static final int LARGEST_PAYLOAD = 64 * 1024;

  /** No payload is shorter: its fixed fields with an empty boot name. */
  static final int SMALLEST_RECORD = HEADER_BYTES + 1 + 8 + 2 + 8 + 8 + 1 + 2;

  private static final int VERSION = 1;
  private static final int HAS_VALUE = 1;
  private static final int HAS_TEXT = 2;
  private static final int SUSPECT = 4;
  private static final int FAULT = 8;

  private RecordFormat() {}

  static ByteBuffer encode(OutboxSample sample) {
    byte[] payload = payload(sample);
    if (payload.length > LARGEST_PAYLOAD) {
      throw new IllegalArgumentException("a sample of " + payload.length + " bytes is too large");
    }
    ByteBuffer record = ByteBuffer.allocate(HEADER_BYTES + payload.length);
    record.putInt(START).putInt(payload.length).putInt(check(payload, 0, payload.length));
    return record.put(payload).flip();
  }

  private static int check(byte[] bytes, int offset, int length) {
    CRC32C crc = new CRC32C();
    crc.update(ByteBuffer.allocate(4).putInt(length).flip());
    crc.update(bytes, offset, length);
    return (int) crc.getValue();
  }

  /** The payload's length when a whole and intact record starts here, otherwise -1. */
  static int intactLength(byte[] file, int offset) {
    int length = claimedLength(file, offset);
    if (length < 0 || offset + HEADER_BYTES + length > file.length) {
      return -1;
    }
    int crc = ByteBuffer.wrap(file, offset + 8, 4).getInt();
    return crc == check(file, offset + HEADER_BYTES, length) ? length : -1;
  }

  /** The length that a record starting here claims, or -1 when none starts here. */
  static int claimedLength(byte[] file, int offset) {
    if (offset + HEADER_BYTES > file.length) {
      return -1;
    }
    ByteBuffer header = ByteBuffer.wrap(file, offset, HEADER_BYTES);
    if (header.getInt() != START) {
      return -1;
    }
    int length = header.getInt();
    return length < 0 || length > LARGEST_PAYLOAD ? -1 : length;
  }

  private static byte[] payload(OutboxSample sample) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream(256);
    try (DataOutputStream out = new DataOutputStream(bytes)) {
      out.writeByte(VERSION);
      out.writeLong(sample.sequence());
      out.writeUTF(sample.boot());
      out.writeLong(sample.uptime().toNanos());
      out.writeLong(sample.wall().toEpochMilli());
      out.writeBoolean(sample.wallClockSet());
      out.writeShort(sample.readings().size());
      for (Reading reading : sample.readings()) {
        write(out, reading);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return bytes.toByteArray();
  }

  private static void write(DataOutputStream out, Reading reading) throws IOException {
    Quality quality = reading.quality();
    int flags =
        (reading.value().isPresent() ? HAS_VALUE : 0)
            | (reading.text().isPresent() ? HAS_TEXT : 0)
            | (quality instanceof Quality.Suspect ? SUSPECT : 0)
            | (quality instanceof Quality.Fault ? FAULT : 0);
    out.writeByte(flags);
    out.writeUTF(reading.name());
    out.writeUTF(reading.unit());
    if (reading.value().isPresent()) {
      out.writeDouble(reading.value().getAsDouble());
    }
    if (reading.text().isPresent()) {
      out.writeUTF(reading.text().get());
    }
    if (quality instanceof Quality.Suspect suspect) {
      out.writeUTF(suspect.reason());
    } else if (quality instanceof Quality.Fault fault) {
      out.writeUTF(fault.reason());
    }
  }

  /** Reads a payload; empty when a newer program wrote it in a way this one does not know. */
  static Optional<OutboxSample> decode(byte[] file, int offset, int length) {
    try (DataInputStream in =
        new DataInputStream(new ByteArrayInputStream(file, offset + HEADER_BYTES, length))) {
      if (in.readByte() != VERSION) {
        return Optional.empty();
      }
      long sequence = in.readLong();
      String boot = in.readUTF();
      Duration uptime = Duration.ofNanos(in.readLong());
      Instant wall = Instant.ofEpochMilli(in.readLong());
      boolean set = in.readBoolean();
      int count = in.readShort();
      List<Reading> readings = new ArrayList<>();
      for (int i = 0; i < count; i++) {
        readings.add(read(in));
      }
      return sequence < 1
          ? Optional.empty()
          : Optional.of(new OutboxSample(sequence, boot, uptime, wall, set, readings));
    } catch (IOException e) {
      return Optional.empty();
    }
  }

  private static Reading read(DataInputStream in) throws IOException {
    int flags = in.readByte();
    String name = in.readUTF();
    String unit = in.readUTF();
    OptionalDouble value =
        (flags & HAS_VALUE) != 0 ? OptionalDouble.of(in.readDouble()) : OptionalDouble.empty();
    Optional<String> text = (flags & HAS_TEXT) != 0 ? Optional.of(in.readUTF()) : Optional.empty();
    Quality quality = Quality.good();
    if ((flags & SUSPECT) != 0) {
      quality = Quality.suspect(in.readUTF());
    } else if ((flags & FAULT) != 0) {
      quality = Quality.fault(in.readUTF());
    }
    return new Reading(name, unit, value, text, quality);
  }
}
