package org.layroom.dashboard.mqtt;

import java.io.IOException;
import java.io.InputStream;
import java.net.Socket;

/**
 * Sockets that never hand a message of more than the contract's size to the client library, which
 * would take memory for all of it and lose its receiving thread.
 */
final class BoundedSockets extends UnconnectedSockets {
  @Override
  public Socket createSocket() {
    return new BoundedSocket();
  }

  private static final class BoundedSocket extends Socket {
    private CheckedPackets in = CheckedPackets.NONE;

    @Override
    public synchronized InputStream getInputStream() throws IOException {
      if (in == CheckedPackets.NONE) {
        in = new CheckedPackets(super.getInputStream());
      }
      return in;
    }
  }
}
