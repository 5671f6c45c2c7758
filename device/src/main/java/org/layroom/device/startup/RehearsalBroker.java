package org.layroom.device.startup;

import java.io.DataInputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.URI;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Arrays;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/**
 * Nods at whatever a client sends (MQTT 3.1.1, OASIS, sections 3.2, 3.4, 3.9 and 3.13) and passes
 * nothing on: enough for a device to connect and to publish once, on this machine alone.
 */
final class RehearsalBroker implements AutoCloseable {
  private static final int CONNECT = 1;
  private static final int PUBLISH = 3;
  private static final int SUBSCRIBE = 8;
  private static final int PINGREQ = 12;

  private final ServerSocket door;
  private final String awaited;
  private final CountDownLatch heard = new CountDownLatch(1);

  /**
   * Opens it on a free port.
   *
   * @param awaited the topic of which {@link #heard} tells
   */
  RehearsalBroker(String awaited) throws IOException {
    this.awaited = awaited;
    door = new ServerSocket(0, 1, InetAddress.getLoopbackAddress());
    Thread thread = new Thread(this::serve, "layroom-rehearsed-broker");
    thread.setDaemon(true);
    thread.start();
  }

  URI uri() {
    return URI.create("mqtt://127.0.0.1:" + door.getLocalPort());
  }

  /** Whether something came on the awaited topic, now or before the patience ends. */
  boolean heard(Duration patience) throws InterruptedException {
    return heard.await(patience.toMillis(), TimeUnit.MILLISECONDS);
  }

  private void serve() {
    while (!door.isClosed()) {
      try (Socket client = door.accept();
          DataInputStream in = new DataInputStream(client.getInputStream())) {
        OutputStream out = client.getOutputStream();
        for (int head = in.read(); head >= 0; head = in.read()) {
          byte[] body = new byte[length(in)];
          in.readFully(body);
          out.write(answer(head, ByteBuffer.wrap(body)));
        }
      } catch (IOException closed) {
        // the client has left, or the rehearsal is over
      }
    }
  }

  /** The remaining length, section 2.2.3. */
  private static int length(DataInputStream in) throws IOException {
    int length = 0;
    int shift = 0;
    int next;
    do {
      next = in.readUnsignedByte();
      length |= (next & 0x7f) << shift;
      shift += 7;
    } while ((next & 0x80) != 0 && shift < 28);
    return length;
  }

  private byte[] answer(int head, ByteBuffer body) {
    return switch (head >> 4) {
      case CONNECT -> new byte[] {0x20, 2, 0, 0};
      case PUBLISH -> published(head, body);
      case SUBSCRIBE -> granted(body);
      case PINGREQ -> new byte[] {(byte) 0xd0, 0};
      default -> new byte[0];
    };
  }

  private byte[] published(int head, ByteBuffer body) {
    byte[] topic = new byte[body.getShort()];
    body.get(topic);
    byte[] taken = (head & 0x06) == 0 ? new byte[0] : new byte[] {0x40, 2, body.get(), body.get()};
    if (new String(topic, StandardCharsets.UTF_8).equals(awaited)) {
      heard.countDown();
    }
    return taken;
  }

  private static byte[] granted(ByteBuffer body) {
    byte[] id = {body.get(), body.get()};
    int filters = 0;
    while (body.hasRemaining()) {
      short length = body.getShort();
      body.position(body.position() + length + 1);
      filters++;
    }
    byte[] answer = new byte[4 + filters];
    answer[0] = (byte) 0x90;
    answer[1] = (byte) (2 + filters);
    answer[2] = id[0];
    answer[3] = id[1];
    Arrays.fill(answer, 4, answer.length, (byte) 1);
    return answer;
  }

  @Override
  public void close() throws IOException {
    door.close();
  }
}
