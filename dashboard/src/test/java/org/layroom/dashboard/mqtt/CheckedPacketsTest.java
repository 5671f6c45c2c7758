package org.layroom.dashboard.mqtt;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.SocketTimeoutException;
import java.nio.charset.StandardCharsets;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

/**
 * The stream is judged by packets put together by hand from MQTT 3.1.1 (sections 2.2 and 3.3), not
 * by any code of ours.
 */
class CheckedPacketsTest {
  private static final byte PINGRESP = (byte) 0xd0;

  /** A QoS 1 PUBLISH to topic "a/b" with packet id 7 and a payload of one repeated byte. */
  private static byte[] publish(int payload) {
    return publish("a/b".getBytes(StandardCharsets.US_ASCII), payload);
  }

  private static byte[] publish(byte[] topic, int payload) {
    int remaining = 2 + topic.length + 2 + payload;
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    out.write(0x32);
    int left = remaining;
    do {
      int digit = left % 128;
      left /= 128;
      out.write(left > 0 ? digit | 0x80 : digit);
    } while (left > 0);
    out.write(topic.length >> 8);
    out.write(topic.length);
    out.writeBytes(topic);
    out.write(0);
    out.write(7);
    for (int i = 0; i < payload; i++) {
      out.write('x');
    }
    return out.toByteArray();
  }

  /** Gives few bytes at a time and times out in between, as a socket does. */
  private static InputStream halting(byte[] bytes, Random random) {
    return new InputStream() {
      private int at;

      @Override
      public int read() throws IOException {
        if (random.nextInt(4) == 0) {
          throw new SocketTimeoutException();
        }
        return at < bytes.length ? bytes[at++] & 0xff : -1;
      }

      @Override
      public int read(byte[] into, int offset, int length) throws IOException {
        if (random.nextInt(4) == 0) {
          throw new SocketTimeoutException();
        }
        if (at == bytes.length) {
          return -1;
        }
        int n = Math.min(Math.min(length, 1 + random.nextInt(3000)), bytes.length - at);
        System.arraycopy(bytes, at, into, offset, n);
        at += n;
        return n;
      }
    };
  }

  private static byte[] readAll(InputStream in) throws IOException {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    byte[] buffer = new byte[1000];
    int n = 0;
    while (n >= 0) {
      out.write(buffer, 0, n);
      n = readPatiently(in, buffer);
    }
    return out.toByteArray();
  }

  /** A timeout is no more than a read of nothing. */
  private static int readPatiently(InputStream in, byte[] buffer) throws IOException {
    try {
      return in.read(buffer);
    } catch (SocketTimeoutException e) {
      return 0;
    }
  }

  @Test
  void anOversizedPayloadIsCutToOneByteTooManyAndTheNextPacketIsWhole() throws IOException {
    ByteArrayOutputStream sent = new ByteArrayOutputStream();
    sent.writeBytes(publish(10_000_000));
    sent.write(PINGRESP);
    sent.write(0);
    ByteArrayOutputStream expected = new ByteArrayOutputStream();
    expected.writeBytes(publish(65_537));
    expected.write(PINGRESP);
    expected.write(0);
    assertArrayEquals(
        expected.toByteArray(),
        readAll(new CheckedPackets(halting(sent.toByteArray(), new Random(1)))));
  }

  @Property(tries = 200)
  void whateverIsInsideTheLimitPassesUnchanged(
      @ForAll @IntRange(max = 65_537) int first,
      @ForAll @IntRange(max = 300) int second,
      @ForAll long seed)
      throws IOException {
    ByteArrayOutputStream sent = new ByteArrayOutputStream();
    sent.writeBytes(publish(first));
    sent.write(PINGRESP);
    sent.write(0);
    sent.writeBytes(publish(second));
    byte[] got = readAll(new CheckedPackets(halting(sent.toByteArray(), new Random(seed))));
    assertEquals(sent.size(), got.length);
    assertArrayEquals(sent.toByteArray(), got);
  }

  /** MQTT 3.1.1, section 1.5.3: what a topic may not or should not hold. */
  @Test
  void aTopicThatTheClientLibraryDiesOfIsWrittenWithQuestionMarks() throws IOException {
    byte[] topic = {'a', '/', '\n', 0x1b, (byte) 0xff, (byte) 0xc2, (byte) 0x85, 0x7f, 0, 'b'};
    ByteArrayOutputStream sent = new ByteArrayOutputStream();
    sent.writeBytes(publish(topic, 70_000));
    sent.writeBytes(publish(5));
    ByteArrayOutputStream expected = new ByteArrayOutputStream();
    expected.writeBytes(publish("a/???????b".getBytes(StandardCharsets.US_ASCII), 65_537));
    expected.writeBytes(publish(5));
    assertArrayEquals(
        expected.toByteArray(),
        readAll(new CheckedPackets(halting(sent.toByteArray(), new Random(1)))));
  }

  @Property(tries = 200)
  void noTopicReachesTheLibraryThatIsNotPrintableAndNothingElseChanges(
      @ForAll byte[] topic, @ForAll @IntRange(max = 300) int payload, @ForAll long seed)
      throws IOException {
    byte[] got = readAll(new CheckedPackets(halting(publish(topic, payload), new Random(seed))));
    byte[] plain = topic.clone();
    for (int i = 0; i < plain.length; i++) {
      plain[i] = topic[i] > 0x20 && topic[i] < 0x7f ? topic[i] : (byte) '?';
    }
    assertArrayEquals(publish(plain, payload), got);
  }

  @Test
  void aTopicLongerThanItsMessageBreaksTheLink() {
    byte[] wrong = {0x32, 4, 0, 9, 'a', 'b'};
    assertThrows(
        IOException.class, () -> readAll(new CheckedPackets(halting(wrong, new Random(1)))));
  }
}
