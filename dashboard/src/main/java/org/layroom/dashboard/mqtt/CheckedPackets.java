package org.layroom.dashboard.mqtt;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.util.Arrays;
import org.layroom.device.telemetry.Topic;

/**
 * Passes an MQTT stream on to the client library, packet by packet, so that nothing that a broker
 * sends ends the library's receiver. The payload of an oversized PUBLISH is cut to one byte above
 * the largest size, and each byte of a topic that is not printable ASCII is written as {@code ?}:
 * such a message is received, acknowledged and ignored, so the broker does not send it again. A
 * packet that no client may be sent, of a wrong length or quality of service, breaks the link with
 * an {@link Unreadable}. Packets and lengths: MQTT 3.1.1, sections 2.2 and 3.2 to 3.13. May be
 * interrupted by a read timeout at any byte.
 */
final class CheckedPackets extends FilterInputStream {
  static final CheckedPackets NONE = new CheckedPackets(InputStream.nullInputStream());

  private static final int PUBLISH = 3;
  private static final int LONGEST_SUBACK = 1024;

  /** Type byte, remaining length, and the two bytes of a topic's length. */
  private static final int LONGEST_HEADER = 7;

  /** What is no MQTT for a client. */
  static final class Unreadable extends IOException {
    private static final long serialVersionUID = 1;

    Unreadable(String why) {
      super("the broker sends what is not MQTT: " + why);
    }
  }

  /** The header so far, and of a PUBLISH the topic with its length. */
  private byte[] header = new byte[64];

  private int headerLength;
  private byte[] ready = {};
  private int readyAt;
  private long pass;
  private long skip;

  CheckedPackets(InputStream in) {
    super(in);
  }

  @Override
  public int read() throws IOException {
    byte[] one = new byte[1];
    return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
  }

  @Override
  public int read(byte[] into, int offset, int length) throws IOException {
    if (length == 0) {
      return 0;
    }
    if (!prepare()) {
      return -1;
    }
    if (readyAt < ready.length) {
      int n = Math.min(length, ready.length - readyAt);
      System.arraycopy(ready, readyAt, into, offset, n);
      readyAt += n;
      return n;
    }
    int n = in.read(into, offset, (int) Math.min(length, pass));
    if (n > 0) {
      pass -= n;
    }
    return n;
  }

  /** Skips what is to be skipped and reads the next header. False at the end of the stream. */
  private boolean prepare() throws IOException {
    while (readyAt == ready.length && pass == 0) {
      while (skip > 0) {
        byte[] waste = new byte[(int) Math.min(skip, 8192)];
        int n = in.read(waste);
        if (n < 0) {
          return false;
        }
        skip -= n;
      }
      int next = in.read();
      if (next < 0) {
        return false;
      }
      if (headerLength == header.length) {
        header = Arrays.copyOf(header, 2 * headerLength);
      }
      header[headerLength++] = (byte) next;
      takeHeader();
    }
    return true;
  }

  private void takeHeader() throws IOException {
    int lengthEnd = 1;
    while (lengthEnd < headerLength && header[lengthEnd] < 0) {
      lengthEnd++;
    }
    if (lengthEnd == 5) {
      throw new Unreadable("a length of more than four bytes");
    }
    if (lengthEnd >= headerLength) {
      return;
    }
    long remaining = remainingLength(lengthEnd);
    int type = (header[0] & 0xff) >> 4;
    if (type != PUBLISH) {
      requireForClient(type, remaining);
      emit(lengthEnd + 1, remaining, remaining);
    } else if (headerLength >= lengthEnd + 3) {
      takeTopic(lengthEnd + 1, remaining);
    }
  }

  private static void requireForClient(int type, long remaining) throws Unreadable {
    boolean fits =
        switch (type) {
          case 2, 4, 5, 6, 7, 11 -> remaining == 2; // CONNACK, PUBACK to PUBCOMP, UNSUBACK
          case 9 -> remaining >= 3 && remaining <= LONGEST_SUBACK;
          case 13 -> remaining == 0; // PINGRESP
          default -> false;
        };
    if (!fits) {
      throw new Unreadable("a packet of type " + type + " with " + remaining + " bytes");
    }
  }

  private void takeTopic(int fixed, long remaining) throws IOException {
    if ((header[0] & 0b0110) == 0b0110) {
      throw new Unreadable("a message of quality of service 3");
    }
    int topic = ((header[fixed] & 0xff) << 8) | (header[fixed + 1] & 0xff);
    int id = (header[0] & 0b0110) == 0 ? 0 : 2;
    if (2L + topic + id > remaining) {
      throw new Unreadable("a topic longer than its message");
    }
    if (headerLength < fixed + 2 + topic) {
      return;
    }
    for (int i = fixed + 2; i < headerLength; i++) {
      if (header[i] <= ' ' || header[i] > '~') {
        header[i] = '?';
      }
    }
    long most = 2L + topic + id + Topic.LARGEST_MESSAGE_BYTES + 1;
    boolean large = remaining > Topic.LARGEST_MESSAGE_BYTES;
    emit(fixed, remaining, large ? Math.min(remaining, most) : remaining);
  }

  private long remainingLength(int end) {
    long length = 0;
    for (int i = end; i >= 1; i--) {
      length = (length << 7) | (header[i] & 0x7f);
    }
    return length;
  }

  private void emit(int fixed, long remaining, long kept) {
    int read = headerLength - fixed;
    byte[] out = new byte[LONGEST_HEADER + read];
    int n = 0;
    out[n++] = header[0];
    long left = kept;
    do {
      out[n++] = (byte) (left > 127 ? (left & 0x7f) | 0x80 : left);
      left >>= 7;
    } while (left > 0);
    System.arraycopy(header, fixed, out, n, read);
    ready = Arrays.copyOf(out, n + read);
    readyAt = 0;
    pass = kept - read;
    skip = remaining - kept;
    headerLength = 0;
  }

  @Override
  public boolean markSupported() {
    return false;
  }
}
