package org.layroom.dashboard.fault;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.URI;
import java.time.Duration;
import java.util.List;
import java.util.Random;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.locks.LockSupport;

/**
 * A slow and unreliable link before a broker: bytes go through in small pieces, late, and now and
 * then a connection is cut in the middle of a message. In place of the kernel's netem, which not
 * every machine has.
 */
final class BadNetwork implements AutoCloseable {
  private static final int PIECE = 512;

  private final ServerSocket server;
  private final URI broker;
  private final int mostMillis;
  private volatile int cutOneIn;
  private volatile boolean pulledOut;
  private final Random random;
  private final List<Socket> sockets = new CopyOnWriteArrayList<>();
  private final AtomicInteger cuts = new AtomicInteger();

  /**
   * Opens the link.
   *
   * @param address of this machine, where it listens on a free port
   * @param mostMillis each piece of up to 512 bytes waits a random time up to this
   * @param cutOneIn one of so many pieces is the last of its connection; 0 for none
   */
  BadNetwork(InetAddress address, URI broker, int mostMillis, int cutOneIn, Random random)
      throws IOException {
    this.broker = broker;
    this.mostMillis = mostMillis;
    this.cutOneIn = cutOneIn;
    this.random = random;
    server = new ServerSocket(0, 50, address);
    daemon(this::accept);
  }

  URI uri() {
    InetSocketAddress bound = (InetSocketAddress) server.getLocalSocketAddress();
    return URI.create("tcp://" + bound.getAddress().getHostAddress() + ":" + bound.getPort());
  }

  /** Nothing comes through any more, and nobody is told so. */
  void pullOut() {
    pulledOut = true;
  }

  void plugIn() {
    pulledOut = false;
  }

  /** No connection is cut from now on; it stays slow. */
  void mend() {
    cutOneIn = 0;
  }

  int cuts() {
    return cuts.get();
  }

  private static void daemon(Runnable work) {
    Thread thread = new Thread(work, "bad-network");
    thread.setDaemon(true);
    thread.start();
  }

  private void accept() {
    try {
      while (true) {
        Socket client = server.accept();
        Socket behind = new Socket(broker.getHost(), broker.getPort());
        sockets.add(client);
        sockets.add(behind);
        daemon(() -> copy(client, behind));
        daemon(() -> copy(behind, client));
      }
    } catch (IOException e) {
      closeAll();
    }
  }

  private void copy(Socket from, Socket to) {
    byte[] buffer = new byte[PIECE];
    try (from;
        to) {
      InputStream in = from.getInputStream();
      OutputStream out = to.getOutputStream();
      for (int n = in.read(buffer); n >= 0; n = in.read(buffer)) {
        if (mostMillis > 0) {
          LockSupport.parkNanos(Duration.ofMillis(random.nextInt(mostMillis)).toNanos());
        }
        while (pulledOut && !server.isClosed()) {
          LockSupport.parkNanos(10_000_000);
        }
        int oneIn = cutOneIn;
        if (oneIn > 0 && random.nextInt(oneIn) == 0) {
          out.write(buffer, 0, n / 2);
          cuts.incrementAndGet();
          return;
        }
        out.write(buffer, 0, n);
      }
    } catch (IOException e) {
      sockets.remove(from);
    }
  }

  private void closeAll() {
    for (Socket socket : List.copyOf(sockets)) {
      try {
        socket.close();
      } catch (IOException e) {
        sockets.remove(socket);
      }
    }
  }

  @Override
  public void close() throws IOException {
    server.close();
    closeAll();
  }
}
