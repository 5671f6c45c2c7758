package org.layroom.dashboard.broker;

import io.netty.bootstrap.ServerBootstrap;
import io.netty.channel.Channel;
import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.ChannelInboundHandlerAdapter;
import io.netty.channel.ChannelInitializer;
import io.netty.channel.ChannelOption;
import io.netty.channel.EventLoopGroup;
import io.netty.channel.group.ChannelGroup;
import io.netty.channel.group.DefaultChannelGroup;
import io.netty.channel.socket.SocketChannel;
import io.netty.channel.socket.nio.NioServerSocketChannel;
import io.netty.handler.codec.mqtt.MqttConnectMessage;
import io.netty.handler.ssl.SslHandler;
import io.netty.util.concurrent.GlobalEventExecutor;
import java.net.InetSocketAddress;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.function.Predicate;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLEngine;

/**
 * The broker's port. It speaks MQTT only: no option of the engine's own port keeps it from HTTP and
 * WebSocket, through which any page open on this machine would come in. So this port takes the
 * connection, waits for a CONNECT with a right login ({@link FirstPacket}), and hands it to the
 * engine then. Its limits bind before the login: 10 s, 4 KiB, and the places of the {@link
 * WaitingRoom}.
 */
@SuppressWarnings("FutureReturnValueIgnored") // the network library's: nobody waits for them
final class MqttDoor implements Gate, AutoCloseable {
  private static final int CONNECT_SECONDS = 10;
  private static final int BACKLOG = 512;

  /** Connections with a login: ten times as many as the most devices that were ever tried. */
  private static final int MOST_INSIDE = 1000;

  private final Predicate<MqttConnectMessage> logins;
  private final Consumer<Channel> engine;
  private final RefusalLog log;
  private final WaitingRoom waiting = new WaitingRoom();
  private final ChannelGroup inside = new DefaultChannelGroup(GlobalEventExecutor.INSTANCE);
  private final ChannelGroup all = new DefaultChannelGroup(GlobalEventExecutor.INSTANCE, true);
  private final Channel port;

  /**
   * Opens the port. A port that is taken comes as {@link java.net.BindException}.
   *
   * @param logins whether who says this comes in
   * @param engine takes a connection over, before its first bytes
   */
  MqttDoor(
      EventLoopGroup threads,
      InetSocketAddress address,
      Optional<SSLContext> tls,
      Predicate<MqttConnectMessage> logins,
      Consumer<Channel> engine,
      RefusalLog log) {
    this.logins = logins;
    this.engine = engine;
    this.log = log;
    this.port =
        new ServerBootstrap()
            .group(threads)
            .channel(NioServerSocketChannel.class)
            .option(ChannelOption.SO_BACKLOG, BACKLOG)
            .option(ChannelOption.SO_REUSEADDR, true)
            .childOption(ChannelOption.TCP_NODELAY, true)
            .childOption(ChannelOption.SO_KEEPALIVE, true)
            .childHandler(
                new ChannelInitializer<SocketChannel>() {
                  @Override
                  protected void initChannel(SocketChannel channel) {
                    arrived(channel, tls);
                  }
                })
            .bind(address)
            .syncUninterruptibly()
            .channel();
  }

  int port() {
    return port.localAddress() instanceof InetSocketAddress bound ? bound.getPort() : 0;
  }

  private void arrived(SocketChannel channel, Optional<SSLContext> tls) {
    all.add(channel);
    waiting.enter(channel).ifPresent(oldest -> refused(RefusalLog.Reason.CROWD, oldest));
    channel.closeFuture().addListener(closed -> waiting.leave(channel));
    channel
        .eventLoop()
        .schedule(
            () -> {
              if (channel.isActive() && !inside.contains(channel)) {
                refused(RefusalLog.Reason.SLOW, channel);
              }
            },
            CONNECT_SECONDS,
            TimeUnit.SECONDS);
    tls.ifPresent(context -> channel.pipeline().addLast(encrypting(context)));
    channel.pipeline().addLast(new PacketBound(this), new FirstPacket(this), new Ending());
  }

  private static SslHandler encrypting(SSLContext context) {
    SSLEngine engine = context.createSSLEngine();
    engine.setUseClientMode(false);
    SslHandler handler = new SslHandler(engine);
    handler.setHandshakeTimeout(CONNECT_SECONDS, TimeUnit.SECONDS);
    return handler;
  }

  @Override
  public boolean letsIn(MqttConnectMessage connect, Channel channel) {
    if (inside.size() >= MOST_INSIDE) {
      log.add(RefusalLog.Reason.CROWD, String.valueOf(channel.remoteAddress()));
      return false;
    }
    if (!logins.test(connect)) {
      return false;
    }
    waiting.leave(channel);
    inside.add(channel);
    channel.pipeline().remove(Ending.class);
    engine.accept(channel);
    return true;
  }

  @Override
  public void refused(RefusalLog.Reason reason, Channel channel) {
    log.add(reason, String.valueOf(channel.remoteAddress()));
    channel.close();
  }

  /** Nobody comes any more; who is there stays. */
  void closePort() {
    port.close().syncUninterruptibly();
  }

  /** Closes the port and every connection. */
  @Override
  public void close() {
    closePort();
    all.close().awaitUninterruptibly(CONNECT_SECONDS, TimeUnit.SECONDS);
  }

  /** What goes wrong before the login (no TLS, a reset) is no more than the end of a connection. */
  private static final class Ending extends ChannelInboundHandlerAdapter {
    @Override
    public void exceptionCaught(ChannelHandlerContext context, Throwable cause) {
      context.close();
    }
  }
}
