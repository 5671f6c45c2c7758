package org.layroom.dashboard.mqtt;

import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.Socket;
import javax.net.SocketFactory;

/**
 * Sockets that never hand a message of more than the contract's size to the client library, which
 * would take memory for all of it and lose its receiving thread.
 */
final class BoundedSockets extends SocketFactory {
  @Override
  public Socket createSocket() {
    return new BoundedSocket();
  }

  @Override
  public Socket createSocket(String host, int port) throws IOException {
    throw new IOException("only unconnected sockets are made here");
  }

  @Override
  public Socket createSocket(String host, int port, InetAddress local, int localPort)
      throws IOException {
    return createSocket(host, port);
  }

  @Override
  public Socket createSocket(InetAddress host, int port) throws IOException {
    return createSocket(host.getHostAddress(), port);
  }

  @Override
  public Socket createSocket(InetAddress host, int port, InetAddress local, int localPort)
      throws IOException {
    return createSocket(host, port);
  }

  private static final class BoundedSocket extends Socket {
    private OversizeCutter in = OversizeCutter.NONE;

    @Override
    public synchronized InputStream getInputStream() throws IOException {
      if (in == OversizeCutter.NONE) {
        in = new OversizeCutter(super.getInputStream());
      }
      return in;
    }
  }
}
