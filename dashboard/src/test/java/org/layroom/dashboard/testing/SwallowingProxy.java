package org.layroom.dashboard.testing;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.URI;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * Stands between a client and a broker and can make every connection that is open now deaf: it
 * stays open, what the client says goes through, and nothing comes back.
 */
public final class SwallowingProxy implements AutoCloseable {
  private final ServerSocket server;
  private final URI broker;
  private final List<Socket> sockets = new CopyOnWriteArrayList<>();
  private final List<Socket> clients = new CopyOnWriteArrayList<>();
  private final AtomicInteger gone = new AtomicInteger();
  private final AtomicInteger accepted = new AtomicInteger();
  private volatile int deafUpTo;

  public SwallowingProxy(URI broker) throws IOException {
    this.broker = broker;
    this.server = new ServerSocket(0, 10, InetAddress.getLoopbackAddress());
    daemon("proxy", this::accept);
  }

  public URI uri() {
    return URI.create("tcp://127.0.0.1:" + server.getLocalPort());
  }

  /** From now on the open connections hear nothing more. New ones do. */
  public void deafen() {
    deafUpTo = accepted.get();
  }

  /** Says this to every client that is connected now, as if the broker had. */
  public void inject(byte[] bytes) {
    for (Socket client : clients) {
      try {
        client.getOutputStream().write(bytes);
      } catch (IOException e) {
        gone.incrementAndGet();
      }
    }
  }

  private static void daemon(String name, Runnable work) {
    Thread thread = new Thread(work, name);
    thread.setDaemon(true);
    thread.start();
  }

  private void accept() {
    try {
      while (true) {
        Socket client = server.accept();
        int number = accepted.incrementAndGet();
        Socket behind = new Socket(InetAddress.getLoopbackAddress(), broker.getPort());
        sockets.add(client);
        clients.add(client);
        sockets.add(behind);
        daemon("proxy-up", () -> copy(client, behind, 0));
        daemon("proxy-down", () -> copy(behind, client, number));
      }
    } catch (IOException e) {
      closeAll();
    }
  }

  /** Copies until the end; a numbered copy swallows once its number is deaf. */
  private void copy(Socket from, Socket to, int number) {
    byte[] buffer = new byte[8192];
    try (from;
        to) {
      InputStream in = from.getInputStream();
      OutputStream out = to.getOutputStream();
      for (int n = in.read(buffer); n >= 0; n = in.read(buffer)) {
        if (number == 0 || number > deafUpTo) {
          out.write(buffer, 0, n);
        }
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
