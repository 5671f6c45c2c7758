package org.layroom.dashboard.broker;

import io.netty.channel.Channel;
import java.net.Inet6Address;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.SocketAddress;
import java.nio.ByteBuffer;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The connections that have not logged in yet: so many in all, and so many of one address. When one
 * more comes, the one that has waited longest makes room, first of the same address, else of the
 * address that has most. A device says its CONNECT at once and is through before its turn to make
 * room comes; who says nothing is not. An IPv6 network of 64 bits counts as one address, since
 * whoever is in it has all of its addresses.
 */
final class WaitingRoom {
  /** More than the hundred devices that may stand behind one address and come back at once. */
  static final int MOST_OF_ONE_ADDRESS = 150;

  private static final int MOST = 300;

  private static final int NETWORK_BYTES = 8;

  private final Map<Object, Set<Channel>> waiting = new HashMap<>();
  private int all;

  /** Lets one more wait. Whom that leaves without a place is returned, to be closed. */
  synchronized Optional<Channel> enter(Channel channel) {
    waiting.computeIfAbsent(address(channel), any -> new LinkedHashSet<>()).add(channel);
    all++;
    Set<Channel> same = waiting.getOrDefault(address(channel), Set.of());
    if (same.size() > MOST_OF_ONE_ADDRESS) {
      return oldest(same);
    }
    return all > MOST
        ? waiting.values().stream()
            .max(Comparator.comparingInt(Collection::size))
            .flatMap(this::oldest)
        : Optional.empty();
  }

  private Optional<Channel> oldest(Set<Channel> of) {
    Optional<Channel> found = of.stream().findFirst();
    found.ifPresent(this::leave);
    return found;
  }

  /** It has logged in, or is gone. */
  synchronized void leave(Channel channel) {
    Object address = address(channel);
    Set<Channel> same = waiting.computeIfAbsent(address, any -> new LinkedHashSet<>());
    if (same.remove(channel)) {
      all--;
    }
    if (same.isEmpty()) {
      waiting.remove(address);
    }
  }

  private static Object address(Channel channel) {
    SocketAddress remote = channel.remoteAddress();
    InetAddress address =
        remote instanceof InetSocketAddress socket
            ? socket.getAddress()
            : InetAddress.getLoopbackAddress();
    return address instanceof Inet6Address
        ? ByteBuffer.wrap(address.getAddress(), 0, NETWORK_BYTES).slice()
        : address;
  }
}
