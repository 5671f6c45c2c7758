package org.layroom.dashboard.broker;

import io.netty.channel.EventLoopGroup;
import io.netty.channel.nio.NioEventLoopGroup;
import io.netty.util.concurrent.DefaultThreadFactory;
import java.io.IOException;
import java.net.BindException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.UnknownHostException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import javax.net.ssl.SSLContext;
import org.apache.activemq.artemis.core.remoting.impl.netty.NettyAcceptor;
import org.apache.activemq.artemis.core.server.ActiveMQServer;
import org.apache.activemq.artemis.core.server.impl.ActiveMQServerImpl;
import org.apache.activemq.artemis.spi.core.protocol.RemotingConnection;
import org.layroom.dashboard.access.device.BrokerClient;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.device.files.FolderTree;
import org.tinylog.Logger;

/**
 * Apache ActiveMQ Artemis inside the dashboard: MQTT 3.1.1 and 5 on this machine's loopback address
 * unless another is named. It keeps nothing over its end: both sides say again what stands. Its
 * port is a {@link MqttDoor}, which the engine stands behind. With a certificate the port is an
 * encrypted one, and the dashboard itself comes in through a second, plain port that no other
 * machine reaches. Everybody needs a name and a password (see {@link BrokerAccess}).
 */
public final class ArtemisBroker implements Broker {
  private static final int DOOR_THREADS = 2;
  private static final int DOOR_STOP_SECONDS = 5;

  private final Path folder;
  private final String address;
  private final DeviceLogins logins;
  private final BrokerAccess access;
  private final Optional<BrokerEncryption> encryption;
  private int port;
  private int innerPort;
  private final RefusalLog log = new RefusalLog();
  private Optional<EventLoopGroup> threads = Optional.empty();
  private final List<MqttDoor> doors = new ArrayList<>();
  private volatile ActiveMQServer server;
  private boolean wanted;
  private boolean trouble;

  /**
   * Prepares a broker; nothing is opened yet.
   *
   * @param folder for the certificate as the engine wants it; made when there is one
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
    this.access = new BrokerAccess(logins, log);
    this.server = engine();
  }

  private ActiveMQServer engine() {
    return new ActiveMQServerImpl(EngineSettings.of(folder), access);
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
    forgetFormerFiles();
    open();
    wanted = true;
    logins.onChange(this::changed);
  }

  /** Messages for sessions that are gone, and the key store that former versions wrote. */
  private void forgetFormerFiles() {
    Path pages = EngineSettings.paging(folder);
    try {
      Files.deleteIfExists(folder.resolve("certificate.p12"));
      if (Files.isDirectory(pages)) {
        FolderTree.delete(pages);
      }
    } catch (IOException e) {
      Logger.warn("{} cannot be removed: {}", pages, e.getMessage());
    }
  }

  private void open() {
    Queue<Exception> failures = new ConcurrentLinkedQueue<>();
    try {
      Optional<SSLContext> tls = encryption.map(BrokerEncryption::context);
      server.registerActivationFailureListener(failures::add);
      server.start();
      server.getRemotingService().addIncomingInterceptor(access);
      server.getRemotingService().addIncomingInterceptor(new OversizeRefusal(log));
      if (failures.isEmpty()) {
        openDoors(tls);
      }
    } catch (BrokerFailure e) {
      stop();
      throw e;
    } catch (Exception e) {
      failures.add(e);
    }
    Exception e = failures.peek();
    if (e == null) {
      return;
    }
    stop();
    if (!isBind(e)) {
      throw new BrokerFailure("The built-in broker cannot start: " + e.getMessage(), e);
    }
    throw new BrokerFailure(
        "Port "
            + port
            + " is in use, perhaps by another broker on this machine. Set broker.port to a"
            + " free port (0 for any), or set broker.uri to use that broker.",
        e);
  }

  private void openDoors(Optional<SSLContext> tls) {
    EventLoopGroup own =
        new NioEventLoopGroup(DOOR_THREADS, new DefaultThreadFactory("layroom-broker-port", true));
    threads = Optional.of(own);
    log.writeOn(own);
    MqttDoor outer = door(own, new InetSocketAddress(resolved(), port), tls);
    port = outer.port();
    if (tls.isPresent()) {
      InetSocketAddress inside = new InetSocketAddress(InetAddress.getLoopbackAddress(), innerPort);
      innerPort = door(own, inside, Optional.empty()).port();
    }
  }

  private MqttDoor door(EventLoopGroup own, InetSocketAddress where, Optional<SSLContext> tls) {
    if (!(server.getRemotingService().getAcceptor(EngineSettings.ACCEPTOR)
        instanceof NettyAcceptor engine)) {
      throw new IllegalStateException("the engine has no acceptor");
    }
    MqttDoor opened = new MqttDoor(own, where, tls, access::letsIn, engine::transfer, log);
    doors.add(opened);
    return opened;
  }

  private static boolean isBind(Exception failure) {
    return Stream.<Throwable>iterate(failure, Objects::nonNull, Throwable::getCause)
        .limit(10)
        .anyMatch(BindException.class::isInstance);
  }

  /** An engine that has ended itself cannot be used again. */
  @Override
  public synchronized void lookAfter() {
    if (!wanted || server.getState() != ActiveMQServer.SERVER_STATE.STOPPED) {
      return;
    }
    if (!trouble) {
      Logger.error("The built-in broker has stopped. Trying to restart it");
      trouble = true;
    }
    closeDoors();
    server = engine();
    try {
      forgetFormerFiles();
      open();
      trouble = false;
      Logger.info("The built-in broker is running again");
    } catch (BrokerFailure e) {
      Logger.debug(e, "The built-in broker cannot start yet");
    }
  }

  private void changed(BrokerClient client) {
    if (server.isStarted()) {
      access.sendAway(server.getRemotingService(), client);
    }
  }

  @Override
  public synchronized URI uri() {
    if (!server.isStarted() || doors.isEmpty()) {
      throw new IllegalStateException("the broker is not started");
    }
    InetAddress reached =
        encryption.isPresent() || resolved().isAnyLocalAddress()
            ? InetAddress.getLoopbackAddress()
            : resolved();
    String host = reached.getHostAddress();
    return URI.create(
        "tcp://"
            + (host.contains(":") ? "[" + host + "]" : host)
            + ":"
            + (encryption.isPresent() ? innerPort : port));
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
      closeDoors();
      server.stop();
    } catch (Exception e) {
      throw new BrokerFailure("The built-in broker did not stop cleanly", e);
    }
  }

  private void closeDoors() {
    doors.forEach(MqttDoor::close);
    doors.clear();
    threads.ifPresent(
        own ->
            own.shutdownGracefully(0, DOOR_STOP_SECONDS, TimeUnit.SECONDS).awaitUninterruptibly());
    threads = Optional.empty();
  }

  /** Ends all connections while the engine still takes what their sessions leave behind. */
  private void sendClientsAway() {
    doors.forEach(MqttDoor::closePort);
    server.getRemotingService().getConnections().forEach(RemotingConnection::destroy);
  }
}
