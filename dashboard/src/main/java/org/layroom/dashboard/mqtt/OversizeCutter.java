package org.layroom.dashboard.mqtt;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.util.Arrays;
import org.layroom.device.telemetry.Topic;

/**
 * Passes an MQTT stream on, but cuts the payload of an oversized PUBLISH to one byte above the
 * largest size, and writes {@code ?} for each byte of a topic that is not printable ASCII. Such a
 * topic ends the client library's receiver for good, and the broker sends the message again after
 * each connect; written so it is received, acknowledged and ignored as an unknown topic. Fixed
 * header and remaining length: MQTT 3.1.1, sections 2.2 and 3.3. May be interrupted by a read
 * timeout at any byte.
 */
final class OversizeCutter extends FilterInputStream {
  static final OversizeCutter NONE = new OversizeCutter(InputStream.nullInputStream());

  private static final int PUBLISH = 3;

  /** Type byte, remaining length, and the two bytes of a topic's length. */
  private static final int LONGEST_HEADER = 7;

  /** The header so far, and of a PUBLISH the topic with its length. */
  private byte[] header = new byte[64];

  private int headerLength;
  private byte[] ready = {};
  private int readyAt;
  private long pass;
  private long skip;

  OversizeCutter(InputStream in) {
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
      throw new IOException("not MQTT: the length has more than four bytes");
    }
    if (lengthEnd >= headerLength) {
      return;
    }
    long remaining = remainingLength(lengthEnd);
    if ((header[0] & 0xff) >> 4 != PUBLISH) {
      emit(lengthEnd + 1, remaining, remaining);
    } else if (headerLength >= lengthEnd + 3) {
      takeTopic(lengthEnd + 1, remaining);
    }
  }

  private void takeTopic(int fixed, long remaining) throws IOException {
    int topic = ((header[fixed] & 0xff) << 8) | (header[fixed + 1] & 0xff);
    int id = (header[0] & 0b0110) == 0 ? 0 : 2;
    if (2L + topic + id > remaining) {
      throw new IOException("not MQTT: a topic longer than its message");
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
