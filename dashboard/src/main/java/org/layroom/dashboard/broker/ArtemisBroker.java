package org.layroom.dashboard.broker;

import java.net.BindException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.UnknownHostException;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.apache.activemq.artemis.api.core.SimpleString;
import org.apache.activemq.artemis.api.core.TransportConfiguration;
import org.apache.activemq.artemis.core.config.Configuration;
import org.apache.activemq.artemis.core.config.impl.ConfigurationImpl;
import org.apache.activemq.artemis.core.remoting.impl.netty.NettyAcceptor;
import org.apache.activemq.artemis.core.remoting.impl.netty.NettyAcceptorFactory;
import org.apache.activemq.artemis.core.server.ActiveMQServer;
import org.apache.activemq.artemis.core.server.JournalType;
import org.apache.activemq.artemis.core.server.impl.ActiveMQServerImpl;
import org.apache.activemq.artemis.core.settings.impl.AddressFullMessagePolicy;
import org.apache.activemq.artemis.core.settings.impl.AddressSettings;
import org.apache.activemq.artemis.spi.core.protocol.RemotingConnection;
import org.layroom.dashboard.credential.DeviceLogins;
import org.layroom.dashboard.credential.Guest;
import org.layroom.device.telemetry.Channel;
import org.tinylog.Logger;

/**
 * Apache ActiveMQ Artemis inside the dashboard: MQTT 3.1.1 and 5 on this machine's loopback address
 * unless another is named, with a journal on disk, so that sessions and retained messages survive a
 * kill. With a certificate the port is an encrypted one, and the dashboard itself comes in through
 * a second, plain port that no other machine reaches. Nobody needs a password while nobody outside
 * this machine can connect and no device is paired; after that everybody does (see {@link
 * BrokerDoor}).
 */
public final class ArtemisBroker implements Broker {
  private static final String ACCEPTOR = "mqtt";
  private static final String INNER_ACCEPTOR = "mqtt-inside";
  private static final int JOURNAL_FILE_BYTES = 2 * 1024 * 1024;
  private static final int PAGE_BYTES = 256 * 1024;
  private static final long GLOBAL_MAX_BYTES = 16L * 1024 * 1024;

  /** The same engine's guard against a filling disk: publishers are held back above it. */
  private static final int MAX_DISK_USAGE_PERCENT = 98;

  /** The default of ten would drop a reading after ten kills of the dashboard. */
  private static final int REDELIVER_FOR_EVER = -1;

  private final Path folder;
  private final String address;
  private final DeviceLogins logins;
  private final BrokerDoor door;
  private final Optional<BrokerEncryption> encryption;
  private int port;
  private int innerPort;
  private volatile ActiveMQServer server;
  private boolean wanted;
  private boolean trouble;

  /**
   * Prepares a broker; nothing is opened yet.
   *
   * @param folder where the journal lives, made when missing
   * @param address of this machine: where it listens
   * @param port TCP port, 0 to 65535; 0 takes a free one
   * @param logins who comes in
   */
  public ArtemisBroker(Path folder, String address, int port, DeviceLogins logins) {
    this(folder, address, port, Optional.empty(), logins);
  }

  /**
   * The same, encrypted where there is a certificate.
   *
   * @throws BrokerFailure when certificate or key cannot be used; says which and why
   */
  public ArtemisBroker(
      Path folder,
      String address,
      int port,
      Optional<BrokerEncryption> encryption,
      DeviceLogins logins) {
    if (port < 0 || port > 65535) {
      throw new IllegalArgumentException("broker port " + port + ": must be 0 to 65535");
    }
    this.folder = folder;
    this.address = address;
    this.port = port;
    this.logins = logins;
    this.encryption = encryption;
    this.door = new BrokerDoor(logins, !resolved().isLoopbackAddress());
    this.server = new ActiveMQServerImpl(configuration(), door);
  }

  private InetAddress resolved() {
    try {
      return InetAddress.getByName(address);
    } catch (UnknownHostException e) {
      throw new IllegalArgumentException(
          "broker address " + address + ": must be an address of this machine", e);
    }
  }

  @Override
  public synchronized void start() {
    open();
    port = boundPort(ACCEPTOR);
    innerPort = encryption.isPresent() ? boundPort(INNER_ACCEPTOR) : 0;
    wanted = true;
    logins.onChange(this::changed);
  }

  private void open() {
    try {
      server.start();
      server.getRemotingService().addIncomingInterceptor(door);
      server.getRemotingService().addIncomingInterceptor(new OversizeRefusal());
    } catch (Exception e) {
      stop();
      throw new BrokerFailure(
          "The broker inside the dashboard cannot start in " + folder + ": " + e.getMessage(), e);
    }
    if (boundPort(ACCEPTOR) == 0) {
      stop();
      throw new BrokerFailure(
          "Port "
              + port
              + " is taken, perhaps by another broker on this machine. Set broker.port to a free"
              + " port (0 takes any), or broker.uri to use that broker.",
          new BindException("port " + port));
    }
  }

  /** The engine ends itself on the first write that its disk refuses, and cannot be used again. */
  @Override
  public synchronized void lookAfter() {
    if (!wanted || server.getState() != ActiveMQServer.SERVER_STATE.STOPPED) {
      return;
    }
    if (!trouble) {
      Logger.error(
          "The broker inside the dashboard has stopped: its disk is full or takes nothing. Trying to"
              + " start it again");
      trouble = true;
    }
    server = new ActiveMQServerImpl(configuration(), door);
    try {
      open();
      trouble = false;
      Logger.info("The broker inside the dashboard runs again");
    } catch (BrokerFailure e) {
      Logger.debug(e, "The broker inside the dashboard cannot start yet");
    }
  }

  private void changed(Channel channel) {
    if (server.isStarted()) {
      door.sendAway(server.getRemotingService(), Optional.of(new Guest.Device(channel)));
    }
  }

  @Override
  public boolean letsAnybodyIn() {
    return door.isOpen();
  }

  private int boundPort(String acceptor) {
    return server.getRemotingService().getAcceptor(acceptor) instanceof NettyAcceptor netty
            && netty.isStarted()
        ? netty.getActualPort()
        : 0;
  }

  @Override
  public synchronized URI uri() {
    String acceptor = encryption.isPresent() ? INNER_ACCEPTOR : ACCEPTOR;
    int bound = server.isStarted() ? boundPort(acceptor) : 0;
    if (bound == 0) {
      throw new IllegalStateException("the broker is not started");
    }
    String host =
        encryption.isPresent() || resolved().isAnyLocalAddress()
            ? loopback()
            : resolved().getHostAddress();
    return URI.create("tcp://" + (host.contains(":") ? "[" + host + "]" : host) + ":" + bound);
  }

  @Override
  public boolean encrypted() {
    return encryption.isPresent();
  }

  @Override
  public synchronized int port() {
    return port;
  }

  @Override
  public synchronized void close() {
    wanted = false;
    stop();
  }

  private void stop() {
    try {
      if (server.isStarted()) {
        sendClientsAway();
      }
      server.stop();
    } catch (Exception e) {
      throw new BrokerFailure("The broker inside the dashboard did not stop cleanly", e);
    }
  }

  /** Ends all connections while the journal still takes what their sessions leave behind. */
  private void sendClientsAway() {
    server.getRemotingService().pauseAcceptors();
    server.getRemotingService().getConnections().forEach(RemotingConnection::destroy);
  }

  private static String loopback() {
    return new InetSocketAddress(InetAddress.getLoopbackAddress(), 0).getAddress().getHostAddress();
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

  private Configuration configuration() {
    ConfigurationImpl configuration = new ConfigurationImpl();
    configuration.setName("layroom");
    configuration.setBrokerInstance(folder.toFile());
    configuration.setJournalDirectory(folder.resolve("journal").toString());
    configuration.setBindingsDirectory(folder.resolve("bindings").toString());
    configuration.setPagingDirectory(folder.resolve("paging").toString());
    configuration.setLargeMessagesDirectory(folder.resolve("large-messages").toString());
    configuration.setNodeManagerLockDirectory(folder.resolve("journal").toString());
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
            resolved().getHostAddress(),
            port,
            encryption.map(shown -> shown.acceptorSettings(folder)).orElse(Map.of())));
    if (encryption.isPresent()) {
      configuration.addAcceptorConfiguration(
          acceptor(INNER_ACCEPTOR, loopback(), innerPort, Map.of()));
    }
    AddressSettings settings = new AddressSettings();
    settings.setPageSizeBytes(PAGE_BYTES);
    settings.setMaxSizeBytes(4L * 1024 * 1024);
    settings.setAddressFullMessagePolicy(AddressFullMessagePolicy.PAGE);
    settings.setAutoCreateAddresses(true);
    settings.setAutoCreateQueues(true);
    settings.setMaxDeliveryAttempts(REDELIVER_FOR_EVER);
    settings.setDeadLetterAddress(SimpleString.of("layroom-undelivered"));
    settings.setExpiryAddress(SimpleString.of("layroom-expired"));
    configuration.addAddressSetting("#", settings);
    return configuration;
  }
}
