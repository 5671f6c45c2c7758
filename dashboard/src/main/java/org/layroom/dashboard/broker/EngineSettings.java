package org.layroom.dashboard.broker;

import java.net.InetAddress;
import java.net.InetSocketAddress;
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

/** How the engine is set up for a small board: MQTT alone, small journal files, no management. */
final class EngineSettings {
  /** The port for devices. */
  static final String ACCEPTOR = "mqtt";

  /** The plain port for the dashboard itself, where that for devices is encrypted. */
  static final String INNER_ACCEPTOR = "mqtt-inside";

  static final int JOURNAL_FILE_BYTES = 2 * 1024 * 1024;
  private static final int PAGE_BYTES = 256 * 1024;
  private static final long GLOBAL_MAX_BYTES = 16L * 1024 * 1024;

  /** The same engine's guard against a filling disk: publishers are held back above it. */
  private static final int MAX_DISK_USAGE_PERCENT = 98;

  /** The default of ten would drop a reading after ten kills of the dashboard. */
  private static final int REDELIVER_FOR_EVER = -1;

  private EngineSettings() {}

  /**
   * One port for everybody; encrypted, with a plain one beside it that no other machine reaches.
   *
   * @param address where the port for devices listens
   * @param port of devices; 0 takes a free one
   * @param innerPort the plain one beside an encrypted one
   */
  static Configuration of(
      BrokerFiles files,
      InetAddress address,
      int port,
      int innerPort,
      Optional<BrokerEncryption> encryption) {
    ConfigurationImpl configuration = new ConfigurationImpl();
    configuration.setName("layroom");
    configuration.setBrokerInstance(files.folder().toFile());
    configuration.setJournalDirectory(files.journal().toString());
    configuration.setBindingsDirectory(files.bindings().toString());
    configuration.setPagingDirectory(files.paging().toString());
    configuration.setLargeMessagesDirectory(files.largeMessages().toString());
    configuration.setNodeManagerLockDirectory(files.journal().toString());
    configuration.setPersistenceEnabled(true);
    configuration.setJournalType(JournalType.NIO);
    configuration.setJournalFileSize(JOURNAL_FILE_BYTES);
    configuration.setJournalMinFiles(2);
    configuration.setJournalPoolFiles(2);
    configuration.setJournalCompactMinFiles(4);
    configuration.setJournalBufferSize_NIO(256 * 1024);
    configuration.setSecurityEnabled(true);
    configuration.setSecurityInvalidationInterval(0);
    configuration.setJMXManagementEnabled(false);
    configuration.setMessageCounterEnabled(false);
    configuration.setGlobalMaxSize(GLOBAL_MAX_BYTES);
    configuration.setMaxDiskUsage(MAX_DISK_USAGE_PERCENT);
    configuration.setScheduledThreadPoolMaxSize(2);
    configuration.setThreadPoolMaxSize(8);
    configuration.setGracefulShutdownEnabled(false);
    configuration.setCriticalAnalyzer(false);
    configuration.addAcceptorConfiguration(
        acceptor(
            ACCEPTOR,
            address.getHostAddress(),
            port,
            encryption.map(shown -> shown.acceptorSettings(files.folder())).orElse(Map.of())));
    if (encryption.isPresent()) {
      configuration.addAcceptorConfiguration(
          acceptor(INNER_ACCEPTOR, loopback(), innerPort, Map.of()));
    }
    configuration.addAddressSetting("#", addresses());
    return configuration;
  }

  private static AddressSettings addresses() {
    AddressSettings settings = new AddressSettings();
    settings.setPageSizeBytes(PAGE_BYTES);
    settings.setMaxSizeBytes(4L * 1024 * 1024);
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
            -1,
            "closeMqttConnectionOnPublishAuthorizationFailure",
            false));
  }

  /** This machine as it calls itself. */
  static String loopback() {
    return new InetSocketAddress(InetAddress.getLoopbackAddress(), 0).getAddress().getHostAddress();
  }
}
