package org.layroom.dashboard.mqtt;

import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import javax.net.SocketFactory;

/** A factory of sockets that whoever asks for them connects, as the client library does. */
abstract class UnconnectedSockets extends SocketFactory {
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
}
