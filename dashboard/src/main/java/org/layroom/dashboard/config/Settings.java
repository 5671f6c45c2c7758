package org.layroom.dashboard.config;

import java.net.InetAddress;
import java.net.URI;
import java.net.UnknownHostException;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.Optional;
import java.util.Set;
import org.layroom.dashboard.announce.HouseAddress;
import org.layroom.dashboard.broker.BrokerEncryption;
import org.layroom.dashboard.store.Retention;
import org.layroom.device.telemetry.RoomName;

/**
 * The dashboard's settings. Everything has a default but the outside broker, and everything listens
 * on this machine only, but where {@code broker.address} and {@code http.address} say otherwise:
 * there nobody comes in without a password, or unpaired.
 *
 * @param room the room shown when a request names none
 * @param broker the outside broker; empty for the embedded one
 * @param brokerEncryption what the broker inside shows to those who connect from outside
 * @param http where the page listens
 * @param house what the page needs to be reached from elsewhere in the house
 * @param data the folder of everything that is kept
 * @param zone the time zone of days and clock times
 * @param material id of the material that the mix check is made for when none is chosen
 * @param outdoorFile outdoor temperatures of the past and to come, from a weather service
 * @param materialFolder more material files, one JSON object each
 * @param retention how long readings and their averages are kept
 * @param announce where warnings and windows are posted; empty for nowhere
 */
public record Settings(
    RoomName room,
    Optional<OutsideBroker> broker,
    Listen embeddedBroker,
    Optional<BrokerEncryption> brokerEncryption,
    Listen http,
    House house,
    Path data,
    ZoneId zone,
    String material,
    Optional<Path> materialFolder,
    Optional<Path> outdoorFile,
    Retention retention,
    Optional<HouseAddress> announce) {

  /**
   * An MQTT broker run by somebody else.
   *
   * @param uri such as {@code tcp://localhost:1883}
   * @param caFile the certificate of who has signed the broker's
   */
  public record OutsideBroker(
      URI uri, Optional<String> user, Optional<Path> passwordFile, Optional<Path> caFile) {}

  /**
   * An address of this machine and a port.
   *
   * @param port 0 lets the system choose a free one
   */
  public record Listen(String address, int port) {
    /** Whether other machines reach it. */
    public boolean reachable() {
      try {
        return !InetAddress.getByName(address).isLoopbackAddress();
      } catch (UnknownHostException e) {
        return true;
      }
    }
  }

  /**
   * How the page is reached from elsewhere.
   *
   * @param names more host names that it is called by
   * @param httpsPort where it listens with a certificate; 0 lets the system choose a free one
   */
  public record House(Set<String> names, int httpsPort, Optional<Certificate> certificate) {}

  /**
   * A certificate with its key.
   *
   * @param chain PKCS#12 with key and chain, or PEM with the chain
   * @param key PEM; empty with PKCS#12
   * @param passwordFile password of the PKCS#12 file
   */
  public record Certificate(Path chain, Optional<Path> key, Optional<Path> passwordFile) {}

  /** Where the shop's own material files are. */
  public Path materials() {
    return materialFolder.orElse(data.resolve("materials"));
  }
}
