package org.layroom.dashboard.access;

import java.net.Inet4Address;
import java.net.InetAddress;
import java.net.NetworkInterface;
import java.net.SocketException;
import java.net.UnknownHostException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import org.tinylog.Logger;

/**
 * The names and addresses that this dashboard answers to. A page of somebody else's that points its
 * own host name here (DNS rebinding) comes under that name, and is turned away by it.
 */
public final class HostNames {
  private static final Set<String> LOOPBACK = Set.of("localhost", "127.0.0.1", "[::1]");
  private static final Pattern NAME =
      Pattern.compile("[a-z0-9]([a-z0-9-]{0,62})(\\.[a-z0-9]([a-z0-9-]{0,62}))*");

  private final Set<String> names;

  private HostNames(Set<String> names) {
    this.names = names;
  }

  /** Only loopback names. */
  public static HostNames loopback() {
    return new HostNames(Set.of());
  }

  /** Loopback names, this machine's own name (alone and in {@code .local}), and some more. */
  public static HostNames of(Set<String> more) {
    Set<String> names = new TreeSet<>();
    more.forEach(name -> names.add(name.toLowerCase(Locale.ROOT)));
    ownName()
        .ifPresent(
            own -> {
              names.add(own);
              if (!own.contains(".")) {
                names.add(own + ".local");
              }
            });
    return new HostNames(names);
  }

  /** Whether a name can stand in a browser's address line: a host name or an IPv4 address. */
  public static boolean canBe(String name) {
    return name.length() <= 253 && NAME.matcher(name.toLowerCase(Locale.ROOT)).matches();
  }

  private static Optional<String> ownName() {
    try {
      String own = InetAddress.getLocalHost().getHostName().toLowerCase(Locale.ROOT);
      return Optional.of(own).filter(HostNames::canBe).filter(name -> !LOOPBACK.contains(name));
    } catch (UnknownHostException e) {
      Logger.debug(e, "This machine has no name");
      return Optional.empty();
    }
  }

  /** Whether this is one of this machine's own loopback names. */
  public static boolean isLoopback(String host) {
    return LOOPBACK.contains(host.toLowerCase(Locale.ROOT));
  }

  /**
   * Whether a request may come under a name.
   *
   * @param host of the request, without port; an IPv6 address in brackets
   * @param arrived the address of this machine that the connection was made to
   */
  public boolean answersTo(String host, InetAddress arrived) {
    String asked = host.toLowerCase(Locale.ROOT);
    return names.contains(asked)
        || asked.equals(literal(arrived))
        || (arrived.isLoopbackAddress() && isLoopback(asked));
  }

  private static String literal(InetAddress address) {
    String text = address.getHostAddress();
    if (address instanceof Inet4Address) {
      return text;
    }
    int zone = text.indexOf('%');
    return "[" + shortened(zone < 0 ? text : text.substring(0, zone)) + "]";
  }

  /** As RFC 5952 writes it, and browsers with it: the longest run of zero groups left out. */
  static String shortened(String ipv6) {
    String[] groups = ipv6.split(":", -1);
    int from = -1;
    int most = 1;
    for (int i = 0; i < groups.length; i++) {
      int run = 0;
      while (i + run < groups.length && groups[i + run].equals("0")) {
        run++;
      }
      if (run > most) {
        from = i;
        most = run;
      }
    }
    if (from < 0) {
      return ipv6;
    }
    List<String> all = List.of(groups);
    return String.join(":", all.subList(0, from))
        + "::"
        + String.join(":", all.subList(from + most, all.size()));
  }

  /** What people type to come here from elsewhere: addresses first, then names. */
  public List<String> reachedBy() {
    List<String> all = new ArrayList<>(addresses());
    all.addAll(names);
    return all;
  }

  /** This machine's IPv4 addresses that others can reach. */
  public static List<String> addresses() {
    try {
      return NetworkInterface.networkInterfaces()
          .flatMap(NetworkInterface::inetAddresses)
          .filter(Inet4Address.class::isInstance)
          .filter(address -> !address.isLoopbackAddress())
          .map(InetAddress::getHostAddress)
          .toList();
    } catch (SocketException e) {
      Logger.debug(e, "This machine's addresses are unknown");
      return List.of();
    }
  }
}
