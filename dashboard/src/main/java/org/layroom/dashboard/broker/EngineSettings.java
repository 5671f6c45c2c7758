package org.layroom.dashboard.broker;

import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.apache.activemq.artemis.api.core.SimpleString;
import org.apache.activemq.artemis.api.core.TransportConfiguration;
import org.apache.activemq.artemis.core.config.Configuration;
import org.apache.activemq.artemis.core.config.impl.ConfigurationImpl;
import org.apache.activemq.artemis.core.remoting.impl.netty.NettyAcceptorFactory;
import org.apache.activemq.artemis.core.server.JournalType;
import org.apache.activemq.artemis.core.settings.impl.AddressFullMessagePolicy;
import org.apache.activemq.artemis.core.settings.impl.AddressSettings;

/**
 * How the engine is set up for a small board: MQTT alone, no journal, no management. What it holds
 * is said again by both sides after a start. Only where somebody takes megabytes too slowly it
 * writes.
 */
final class EngineSettings {
  /** The port for devices. */
  static final String ACCEPTOR = "mqtt";

  /** The plain port for the dashboard itself, where that for devices is encrypted. */
  static final String INNER_ACCEPTOR = "mqtt-inside";

  private static final long GLOBAL_MAX_BYTES = 16L * 1024 * 1024;
  private static final long TOPIC_MAX_BYTES = 4L * 1024 * 1024;
  private static final int PAGE_BYTES = 256 * 1024;

  /** So long the session of a client that asked for a lasting one waits for it. */
  private static final int SESSION_SECONDS = 3600;

  /** A full disk is no reason to hold publishers back. */
  private static final int ANY_DISK_USAGE = -1;

  /**
   * A CONNECT waits in this pool for other work of the same pool: with few threads, some tens of
   * devices that come back at one moment lock each other out.
   */
  private static final int MOST_THREADS = 64;

  /** The default of ten would drop a reading after ten kills of the dashboard. */
  private static final int REDELIVER_FOR_EVER = -1;

  private EngineSettings() {}

  /** Where messages go that nobody takes and that are too many for the memory. */
  static Path paging(Path folder) {
    return folder.resolve("paging");
  }

  /**
   * One port for everybody; encrypted, with a plain one beside it that no other machine reaches.
   *
   * @param folder for the certificate as the engine wants it
   * @param address where the port for devices listens
   * @param port of devices; 0 takes a free one
   * @param innerPort the plain one beside an encrypted one
   */
  static Configuration of(
      Path folder,
      InetAddress address,
      int port,
      int innerPort,
      Optional<BrokerEncryption> encryption) {
    ConfigurationImpl configuration = new ConfigurationImpl();
    configuration.setName("layroom");
    configuration.setBrokerInstance(folder.toFile());
    configuration.setPagingDirectory(paging(folder).toString());
    configuration.setPersistenceEnabled(false);
    configuration.setJournalType(JournalType.NIO); // else the engine looks for native code
    configuration.setSecurityEnabled(true);
    configuration.setSecurityInvalidationInterval(0);
    configuration.setJMXManagementEnabled(false);
    configuration.setMessageCounterEnabled(false);
    configuration.setGlobalMaxSize(GLOBAL_MAX_BYTES);
    configuration.setMaxDiskUsage(ANY_DISK_USAGE);
    configuration.setScheduledThreadPoolMaxSize(2);
    configuration.setThreadPoolMaxSize(MOST_THREADS);
    configuration.setGracefulShutdownEnabled(false);
    configuration.setCriticalAnalyzer(false);
    configuration.addAcceptorConfiguration(
        acceptor(
            ACCEPTOR,
            address.getHostAddress(),
            port,
            encryption.map(shown -> shown.acceptorSettings(folder)).orElse(Map.of())));
    if (encryption.isPresent()) {
      configuration.addAcceptorConfiguration(
          acceptor(INNER_ACCEPTOR, loopback(), innerPort, Map.of()));
    }
    configuration.addAddressSetting("#", addresses());
    return configuration;
  }

  private static AddressSettings addresses() {
    AddressSettings settings = new AddressSettings();
    settings.setMaxSizeBytes(TOPIC_MAX_BYTES);
    settings.setPageSizeBytes(PAGE_BYTES);
    settings.setAddressFullMessagePolicy(AddressFullMessagePolicy.PAGE);
    settings.setAutoCreateAddresses(true);
    settings.setAutoCreateQueues(true);
    settings.setMaxDeliveryAttempts(REDELIVER_FOR_EVER);
    settings.setDeadLetterAddress(SimpleString.of("layroom-undelivered"));
    settings.setExpiryAddress(SimpleString.of("layroom-expired"));
    return settings;
  }

  private static TransportConfiguration acceptor(
      String name, String host, int port, Map<String, Object> more) {
    Map<String, Object> settings = new HashMap<>(more);
    settings.put("host", host);
    settings.put("port", port);
    settings.put("protocols", "MQTT");
    settings.put("useEpoll", false);
    settings.put("useKQueue", false);
    settings.put("remotingThreads", 2);
    return new TransportConfiguration(
        NettyAcceptorFactory.class.getName(),
        settings,
        name,
        Map.of(
            "allowLinkStealing",
            true,
            "defaultMqttSessionExpiryInterval",
            SESSION_SECONDS,
            "closeMqttConnectionOnPublishAuthorizationFailure",
            false));
  }

  /** This machine as it calls itself. */
  static String loopback() {
    return new InetSocketAddress(InetAddress.getLoopbackAddress(), 0).getAddress().getHostAddress();
  }
}
