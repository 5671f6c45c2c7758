package org.layroom.dashboard.broker;

import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
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
  /** Where the engine takes connections over; it binds no port of its own. */
  static final String ACCEPTOR = "mqtt";

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
   * An engine that takes over the connections that {@link MqttDoor} hands to it.
   *
   * @param folder where it writes, if it must
   */
  static Configuration of(Path folder) {
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
    configuration.addAcceptorConfiguration(acceptor());
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

  /** With HTTP upgrades it waits for connections that somebody else has taken. */
  private static TransportConfiguration acceptor() {
    Map<String, Object> settings = new HashMap<>();
    settings.put("httpUpgradeEnabled", true);
    settings.put("protocols", "MQTT");
    settings.put("useEpoll", false);
    settings.put("useKQueue", false);
    settings.put("remotingThreads", 1);
    return new TransportConfiguration(
        NettyAcceptorFactory.class.getName(),
        settings,
        ACCEPTOR,
        Map.of(
            "allowLinkStealing",
            true,
            "defaultMqttSessionExpiryInterval",
            SESSION_SECONDS,
            "closeMqttConnectionOnPublishAuthorizationFailure",
            false));
  }
}
