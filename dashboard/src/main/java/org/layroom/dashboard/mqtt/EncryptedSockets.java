package org.layroom.dashboard.mqtt;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.Socket;
import java.net.SocketAddress;
import java.net.SocketException;
import javax.net.ssl.SSLParameters;
import javax.net.ssl.SSLSocket;
import javax.net.ssl.SSLSocketFactory;

/**
 * Encrypted sockets that, like the {@link BoundedSockets}, never hand an oversized message on. They
 * are connected only when the broker's certificate is signed by whom is believed, for the name in
 * the address (RFC 2818, section 3.1).
 */
final class EncryptedSockets extends UnconnectedSockets {
  private final SSLSocketFactory believing;

  EncryptedSockets(SSLSocketFactory believing) {
    this.believing = believing;
  }

  @Override
  public Socket createSocket() throws IOException {
    return new EncryptedSocket((SSLSocket) believing.createSocket());
  }

  private static final class EncryptedSocket extends Socket {
    private final SSLSocket inner;
    private volatile CheckedPackets in = CheckedPackets.NONE;

    EncryptedSocket(SSLSocket inner) {
      this.inner = inner;
    }

    @Override
    public void connect(SocketAddress where, int timeoutMillis) throws IOException {
      SSLParameters asked = inner.getSSLParameters();
      asked.setEndpointIdentificationAlgorithm("HTTPS");
      inner.setSSLParameters(asked);
      inner.connect(where, timeoutMillis);
      inner.setSoTimeout(timeoutMillis);
      inner.startHandshake();
      in = new CheckedPackets(inner.getInputStream());
    }

    @Override
    public InputStream getInputStream() {
      return in;
    }

    @Override
    public OutputStream getOutputStream() throws IOException {
      return inner.getOutputStream();
    }

    @Override
    public synchronized void setSoTimeout(int millis) throws SocketException {
      inner.setSoTimeout(millis);
    }

    @Override
    public void setTcpNoDelay(boolean on) throws SocketException {
      inner.setTcpNoDelay(on);
    }

    @Override
    public boolean isConnected() {
      return inner.isConnected();
    }

    @Override
    public boolean isClosed() {
      return inner.isClosed();
    }

    @Override
    public synchronized void close() throws IOException {
      inner.close();
    }
  }
}
