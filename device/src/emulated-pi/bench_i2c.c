// SPDX-License-Identifier: GPL-2.0
/*
 * bench_i2c: an I2C bus that carries the chips of a layup bench, none of which exists.
 *
 * A program of its own, used only by Layroom's tests on an emulated Raspberry Pi. It answers as the
 * data sheets say: SHT4x at 0x44, ADS1115 at 0x48, SGP40 at 0x59, MLX90614 at 0x5a, BME280 at 0x76. Conversions take their time, and
 * who reads too early is not acknowledged. What the chips feel, and what goes wrong with them, is
 * set while it runs, in /sys/module/bench_i2c/parameters.
 */
#include <linux/delay.h>
#include <linux/i2c.h>
#include <linux/ktime.h>
#include <linux/module.h>

static int silent;
module_param(silent, int, 0644);
MODULE_PARM_DESC(silent, "address that does not answer; 0: all do");
static int damaged;
module_param(damaged, int, 0644);
MODULE_PARM_DESC(damaged, "address whose check bytes are wrong; 0: none");

static int bad_one_in;
module_param(bad_one_in, int, 0644);
MODULE_PARM_DESC(bad_one_in, "one answer in so many does not come; 0: all come");
static unsigned int bad_state = 1;

static int stuck;
module_param(stuck, int, 0644);
MODULE_PARM_DESC(stuck, "1: a chip holds the bus, and each transfer ends when its time is over");

static unsigned int sht4x_t = 0x6666, sht4x_rh = 0x8000;
module_param(sht4x_t, uint, 0644);
module_param(sht4x_rh, uint, 0644);

static unsigned int sgp40_raw = 30000, sgp40_told_rh, sgp40_told_t;
module_param(sgp40_raw, uint, 0644);
module_param(sgp40_told_rh, uint, 0444);
module_param(sgp40_told_t, uint, 0444);

/* The worked example of the BMP280 sheet, section 3.12; the humidity is this bench's own. */
static unsigned int bme280_t = 519888, bme280_p = 415148, bme280_h = 30000;
module_param(bme280_t, uint, 0644);
module_param(bme280_p, uint, 0644);
module_param(bme280_h, uint, 0644);

static int ads1115_steps = 8000;
module_param(ads1115_steps, int, 0644);
MODULE_PARM_DESC(ads1115_steps, "input 0 in steps of 125 uV");

/* 0x3ad2 is 28.01 degC */
static unsigned int mlx90614_object = 0x3ad2, mlx90614_own = 0x3ad2;
module_param(mlx90614_object, uint, 0644);
module_param(mlx90614_own, uint, 0644);

struct chip {
	u16 address;
	int (*told)(const u8 *bytes, int count);
	int (*asked)(u8 *bytes, int count);
};

/* ---- what both Sensirion chips share: words with a check byte, ready after a while */

struct answer {
	u8 bytes[9];
	int length;
	ktime_t ready;
};

static u8 sensirion_crc(const u8 *two)
{
	u8 crc = 0xff;
	int i, bit;

	for (i = 0; i < 2; i++) {
		crc ^= two[i];
		for (bit = 0; bit < 8; bit++)
			crc = crc & 0x80 ? crc << 1 ^ 0x31 : crc << 1;
	}
	return crc;
}

static void say(struct answer *answer, unsigned int word, bool wrong)
{
	u8 *at = answer->bytes + answer->length;

	at[0] = word >> 8;
	at[1] = word;
	at[2] = sensirion_crc(at) ^ (wrong ? 0x10 : 0);
	answer->length += 3;
}

static void start(struct answer *answer, unsigned int microseconds)
{
	answer->length = 0;
	answer->ready = ktime_add_us(ktime_get(), microseconds);
}

static int give(struct answer *answer, u8 *bytes, int count)
{
	int i;

	if (!answer->length || ktime_before(ktime_get(), answer->ready))
		return -EREMOTEIO;
	for (i = 0; i < count; i++)
		bytes[i] = i < answer->length ? answer->bytes[i] : 0xff;
	answer->length = 0;
	return 0;
}

/* ---- SHT4x (sheet sections 4.3 to 4.6) */

static struct answer sht4x;

static int sht4x_told(const u8 *bytes, int count)
{
	bool wrong = damaged == 0x44;

	if (count != 1)
		return count ? -EREMOTEIO : 0;
	switch (bytes[0]) {
	case 0xfd: /* high, medium and low precision */
	case 0xf6:
	case 0xe0:
		start(&sht4x, bytes[0] == 0xfd ? 8300 : bytes[0] == 0xf6 ? 4500 : 1600);
		say(&sht4x, sht4x_t, wrong);
		say(&sht4x, sht4x_rh, wrong);
		return 0;
	case 0x89: /* serial number */
		start(&sht4x, 0);
		say(&sht4x, 0x0f5a, wrong);
		say(&sht4x, 0x21c4, wrong);
		return 0;
	case 0x94: /* soft reset */
		sht4x.length = 0;
		return 0;
	}
	return -EREMOTEIO;
}

static int sht4x_asked(u8 *bytes, int count)
{
	return give(&sht4x, bytes, count);
}

/* ---- SGP40 (sheet section 3) */

static struct answer sgp40;

static int sgp40_told_all(const u8 *bytes, int count)
{
	bool wrong = damaged == 0x59;
	unsigned int command;

	if (count < 2)
		return count ? -EREMOTEIO : 0;
	command = bytes[0] << 8 | bytes[1];
	if (command == 0x260f && count == 8) {
		if (sensirion_crc(bytes + 2) != bytes[4] || sensirion_crc(bytes + 5) != bytes[7])
			return -EREMOTEIO;
		sgp40_told_rh = bytes[2] << 8 | bytes[3];
		sgp40_told_t = bytes[5] << 8 | bytes[6];
		start(&sgp40, 30000);
		say(&sgp40, sgp40_raw, wrong);
	} else if (command == 0x280e && count == 2) {
		start(&sgp40, 320000);
		say(&sgp40, 0xd400, wrong);
	} else if (command == 0x3615 && count == 2) {
		sgp40.length = 0;
	} else {
		return -EREMOTEIO;
	}
	return 0;
}

static int sgp40_asked(u8 *bytes, int count)
{
	return give(&sgp40, bytes, count);
}

/* ---- BME280 (sheet sections 3.3 and 5): sleeps, measures when told to, sleeps again */

static u8 bme280[256], bme280_at, bme280_hum_in_force;
static ktime_t bme280_done;

static void bme280_put(int reg, unsigned int value, int bits)
{
	if (bits == 20) {
		bme280[reg] = value >> 12;
		bme280[reg + 1] = value >> 4;
		bme280[reg + 2] = value << 4;
	} else {
		bme280[reg] = value >> 8;
		bme280[reg + 1] = value;
	}
}

static void bme280_power_on(void)
{
	/* T1-T3, P1-P9 as in the worked example, least significant byte first */
	static const u16 words[12] = { 27504, 26435, (u16)-1000, 36477, (u16)-10685, 3024,
				       2855, 140, (u16)-7, 15500, (u16)-14600, 6000 };
	/* H1 = 75 at 0xa1; H2 = 361, H3 = 0, H4 = 340, H5 = 50, H6 = 30 from 0xe1 on */
	static const u8 humidity[7] = { 361 & 0xff, 361 >> 8, 0, 340 >> 4,
					(340 & 0xf) | (50 & 0xf) << 4, 50 >> 4, 30 };
	int i;

	memset(bme280, 0, sizeof(bme280));
	for (i = 0; i < 12; i++) {
		bme280[0x88 + 2 * i] = words[i];
		bme280[0x89 + 2 * i] = words[i] >> 8;
	}
	bme280[0xa1] = 75;
	memcpy(bme280 + 0xe1, humidity, sizeof(humidity));
	bme280[0xd0] = 0x60;
	bme280_put(0xf7, 0x80000, 20);
	bme280_put(0xfa, 0x80000, 20);
	bme280_put(0xfd, 0x8000, 16);
	bme280_hum_in_force = 0;
}

static void bme280_catch_up(void)
{
	u8 control = bme280[0xf4];

	if (!(bme280[0xf3] & 0x08) || ktime_before(ktime_get(), bme280_done))
		return;
	bme280_put(0xf7, control & 0x1c ? bme280_p : 0x80000, 20);
	bme280_put(0xfa, control & 0xe0 ? bme280_t : 0x80000, 20);
	bme280_put(0xfd, bme280_hum_in_force ? bme280_h : 0x8000, 16);
	bme280[0xf3] &= ~0x08;
	bme280[0xf4] &= ~0x03;
}

static void bme280_set(u8 reg, u8 value)
{
	if (reg == 0xe0 && value == 0xb6) {
		bme280_power_on();
	} else if (reg == 0xf2 || reg == 0xf5) {
		bme280[reg] = value;
	} else if (reg == 0xf4) {
		bme280[reg] = value;
		bme280_hum_in_force = bme280[0xf2] & 0x07;
		if ((value & 0x03) == 1 || (value & 0x03) == 2) {
			bme280[0xf3] |= 0x08;
			bme280_done = ktime_add_us(ktime_get(), 9300);
		}
	}
}

static int bme280_told(const u8 *bytes, int count)
{
	int i;

	bme280_catch_up();
	if (count == 1)
		bme280_at = bytes[0];
	for (i = 0; i + 1 < count; i += 2)
		bme280_set(bytes[i], bytes[i + 1]);
	return 0;
}

static int bme280_asked(u8 *bytes, int count)
{
	int i;

	bme280_catch_up();
	for (i = 0; i < count; i++)
		bytes[i] = bme280[bme280_at++];
	return 0;
}

/* ---- ADS1115 (sheet, registers and data format): single-shot, 128 samples a second */

static u8 ads1115_at;
static u16 ads1115_config = 0x8583, ads1115_conversion;
static ktime_t ads1115_done;

static int ads1115_told(const u8 *bytes, int count)
{
	if (!count)
		return 0;
	ads1115_at = bytes[0] & 3;
	if (count != 3 || ads1115_at != 1)
		return 0;
	ads1115_config = bytes[1] << 8 | bytes[2];
	if (ads1115_config & 0x8000) {
		ads1115_conversion = (ads1115_config & 0x7e00) == 0x4200 ? ads1115_steps : 0;
		ads1115_done = ktime_add_us(ktime_get(), 7812);
	}
	return 0;
}

static int ads1115_asked(u8 *bytes, int count)
{
	bool done = !ktime_before(ktime_get(), ads1115_done);
	u16 word = ads1115_at == 0 ? ads1115_conversion :
		   ads1115_at == 1 ? (ads1115_config & 0x7fff) | (done ? 0x8000 : 0) : 0;
	int i;

	for (i = 0; i < count; i++)
		bytes[i] = i % 2 ? word : word >> 8;
	return 0;
}

/* ---- MLX90614 (sheet, SMBus): a word of RAM with a packet error code over the whole exchange */

static u8 mlx90614_at;

static u8 smbus_pec(const u8 *bytes, int length)
{
	u8 crc = 0;
	int i, bit;

	for (i = 0; i < length; i++) {
		crc ^= bytes[i];
		for (bit = 0; bit < 8; bit++)
			crc = crc & 0x80 ? crc << 1 ^ 0x07 : crc << 1;
	}
	return crc;
}

static int mlx90614_told(const u8 *bytes, int count)
{
	mlx90614_at = count == 1 ? bytes[0] : 0;
	return 0;
}

static int mlx90614_asked(u8 *bytes, int count)
{
	unsigned int word = mlx90614_at == 7 ? mlx90614_object : mlx90614_own;
	u8 all[5] = { 0xb4, mlx90614_at, 0xb5, word, word >> 8 };

	if (count != 3 || (mlx90614_at != 6 && mlx90614_at != 7))
		return -EREMOTEIO;
	bytes[0] = word;
	bytes[1] = word >> 8;
	bytes[2] = smbus_pec(all, 5) ^ (damaged == 0x5a ? 0x10 : 0);
	return 0;
}

/* ---- the bus */

static const struct chip chips[] = {
	{ 0x44, sht4x_told, sht4x_asked },
	{ 0x48, ads1115_told, ads1115_asked },
	{ 0x59, sgp40_told_all, sgp40_asked },
	{ 0x5a, mlx90614_told, mlx90614_asked },
	{ 0x76, bme280_told, bme280_asked },
};

/* The same sequence at each boot (Numerical Recipes' quick generator). */
static bool bad_now(void)
{
	if (bad_one_in <= 0)
		return false;
	bad_state = bad_state * 1664525u + 1013904223u;
	return (bad_state >> 16) % bad_one_in == 0;
}

static int transfer_one(struct i2c_msg *message)
{
	int i;

	if (message->flags & I2C_M_RD && bad_now())
		return -EREMOTEIO;

	for (i = 0; i < ARRAY_SIZE(chips); i++) {
		if (chips[i].address != message->addr || message->addr == silent)
			continue;
		return message->flags & I2C_M_RD ? chips[i].asked(message->buf, message->len)
						 : chips[i].told(message->buf, message->len);
	}
	return -EREMOTEIO;
}

static int transfer(struct i2c_adapter *bus, struct i2c_msg *messages, int count)
{
	int i, error;

	if (stuck) {
		msleep(1000);
		return -ETIMEDOUT;
	}
	for (i = 0; i < count; i++) {
		error = transfer_one(messages + i);
		if (error)
			return error;
	}
	return count;
}

static u32 able(struct i2c_adapter *bus)
{
	return I2C_FUNC_I2C | I2C_FUNC_SMBUS_EMUL;
}

static const struct i2c_algorithm algorithm = { .master_xfer = transfer, .functionality = able };
static struct i2c_adapter bus = {
	.owner = THIS_MODULE, .algo = &algorithm, .name = "bench", .nr = 1,
};

static int __init plug_in(void)
{
	bme280_power_on();
	return i2c_add_numbered_adapter(&bus);
}

static void __exit pull_out(void)
{
	i2c_del_adapter(&bus);
}

module_init(plug_in);
module_exit(pull_out);
MODULE_DESCRIPTION("I2C bus with simulated SHT4x, ADS1115, SGP40, MLX90614 and BME280");
MODULE_LICENSE("GPL");
