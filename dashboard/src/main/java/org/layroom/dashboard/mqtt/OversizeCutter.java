package org.layroom.dashboard.mqtt;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.util.Arrays;
import org.layroom.device.telemetry.Topic;

/**
 * Passes an MQTT stream on, but cuts the payload of an oversized PUBLISH to one byte above the
 * largest size, so that it is still seen, counted and acknowledged. Fixed header and remaining
 * length: MQTT 3.1.1, sections 2.2 and 3.3. May be interrupted by a read timeout at any byte.
 */
final class OversizeCutter extends FilterInputStream {
  static final OversizeCutter NONE = new OversizeCutter(InputStream.nullInputStream());

  private static final int PUBLISH = 3;
  private static final int LONGEST_HEADER = 7;

  /** Type byte, remaining length, and for a large PUBLISH the two bytes of the topic's length. */
  private final byte[] header = new byte[LONGEST_HEADER];

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
    boolean large = (header[0] & 0xff) >> 4 == PUBLISH && remaining > Topic.LARGEST_MESSAGE_BYTES;
    if (!large) {
      emit(lengthEnd + 1, remaining, remaining);
    } else if (headerLength == lengthEnd + 3) {
      int topic = ((header[headerLength - 2] & 0xff) << 8) | (header[headerLength - 1] & 0xff);
      int id = (header[0] & 0b0110) == 0 ? 0 : 2;
      long most = 2L + topic + id + Topic.LARGEST_MESSAGE_BYTES + 1;
      emit(lengthEnd + 1, remaining, Math.min(remaining, most));
    }
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
    byte[] out = new byte[LONGEST_HEADER];
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
