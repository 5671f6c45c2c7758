package org.layroom.device.fitting;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.layroom.device.bus.I2cDevice;

/**
 * A kind of chip on the I2C bus. At most one of a kind is used: the first that answers.
 *
 * @param addresses where it may answer, in the order in which they are tried; one or more
 * @param driver opens its driver at an address
 * @param outranks kinds whose sensors give less, or nothing, beside this one
 */
public record I2cChip(
    String name, List<String> gives, List<Integer> addresses, Driver driver, Set<String> outranks)
    implements ChipKind {

  /** Opens a driver at an address, whether or not a chip is there. */
  @FunctionalInterface
  public interface Driver {
    ChipCandidate open(I2cDevice device, ChipContext context);
  }

  public I2cChip {
    gives = List.copyOf(gives);
    addresses = List.copyOf(addresses);
    outranks = Set.copyOf(outranks);
    if (addresses.isEmpty()) {
      throw new IllegalArgumentException(name + " needs an address");
    }
  }

  /** A kind that outranks no other. */
  public I2cChip(String name, List<String> gives, List<Integer> addresses, Driver driver) {
    this(name, gives, addresses, driver, Set.of());
  }

  /** The same, outranking one more kind. */
  public I2cChip outranking(String kind) {
    Set<String> more = new HashSet<>(outranks);
    more.add(kind);
    return new I2cChip(name, gives, addresses, driver, more);
  }

  @Override
  public String where() {
    int last = addresses.size() - 1;
    if (last > 1 && addresses.get(last) - addresses.get(0) == last) {
      return "at " + hex(addresses.get(0)) + " to " + hex(addresses.get(last));
    }
    return "at " + addresses.stream().map(I2cChip::hex).collect(Collectors.joining(" or "));
  }

  static String hex(int address) {
    return "0x" + Integer.toHexString(address);
  }
}
