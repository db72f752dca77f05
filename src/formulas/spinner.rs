//! Spinner: motor, belt, flyer and bobbin. Belt speeds are taken at pitch diameters.

use super::registry::formulas;
use std::f64::consts::PI;

formulas! {
    /// Motor constant from what its plate or a meter says: volts a radian a second, and newton metres an ampere.
    MOTOR_CONSTANT "motor-constant": (V: Voltage VOLT 0.5..60.0, I0: Current AMP 0.0..20.0, R: Resistance OHM 0.01..500.0, n0: Rotation RPM 50.0..60000.0) -> ke: MotorConstant V_S
        = "(V-I0*R)/(n0*pi/30)"; |[v, i0, r, n0]| (v - i0 * r) / (n0 * PI / 30.0); ["I0*R<V", |[v, i0, r, _]| i0 * r < v];
        Memory "hughes-drury" "kt equals ke; mit-2007 torque and speed";
    /// Motor constant from the speed constant.
    FROM_KV "motor-constant-from-kv": (n0: Rotation RPM 50.0..60000.0, V: Voltage VOLT 0.5..60.0) -> ke: MotorConstant V_S
        = "30*V/(pi*n0)"; |[n, v]| 30.0 * v / (PI * n); Memory "hughes-drury" "9.549 over rpm per volt";
    /// Winding resistance when hot.
    HOT_RESISTANCE "hot-resistance": (R: Resistance OHM 0.01..500.0, T: Temperature DEG_C -20.0..180.0) -> Rh: Resistance OHM
        = "R*(1+0.00393*(T-20))"; |[r, t]| r * (1.0 + 0.00393 * (t - 20.0)); Memory "iec-60028" "copper";
    /// Greatest power of a permanent-magnet motor, at half its no-load speed.
    PEAK_POWER "peak-power": (Ts: Torque NEWTON_M 0.0001..100.0, n0: Rotation RPM 10.0..60000.0) -> P: Power WATT
        = "Ts*(n0*pi/30)/4"; |[t, n]| t * n * PI / 30.0 / 4.0; Published "mit-2007" "motors 3 and 4";
    /// Torque left at a speed, on the motor's straight line.
    TORQUE_AT_SPEED "torque-at-speed": (Ts: Torque NEWTON_M 0.0001..100.0, n: Rotation RPM 0.0..60000.0, n0: Rotation RPM 10.0..60000.0) -> T: Torque NEWTON_M
        = "Ts*(1-n/n0)"; |[t, n, n0]| t * (1.0 - n / n0); Published "mit-2007" "motors 3 and 4";
    /// Best efficiency of a motor.
    PEAK_EFFICIENCY "peak-efficiency": (I0: Current AMP 0.001..50.0, Is: Current AMP 0.05..500.0) -> eta: Ratio ONE
        = "(1-sqrt(I0/Is))*(1-sqrt(I0/Is))"; |[i0, is]| { let q = 1.0 - (i0 / is).sqrt(); q * q };
        ["I0<Is", |[i0, is]| i0 < is]; Derived "hughes-drury" "greatest of (V-IR)(I-I0)/(VI)";
    /// Flyer speed for a twist at a pace of finished yarn, whichever part the belt drives.
    FLYER_SPEED "flyer-speed": (T: PerLength PER_M 10.0..4000.0, v: Speed M_MIN 0.05..30.0) -> n: Rotation RPM
        = "T*v"; |[t, v]| t * v; Published "klein-manual" "twist is flyer speed over delivery";
    /// Turns by which bobbin and flyer must differ to wind on.
    WIND_ON "wind-on": (v: Speed M_MIN 0.05..30.0, d: Length MM 4.0..400.0) -> n: Rotation RPM
        = "1000*v/(pi*d)"; |[v, d]| 1000.0 * v / (PI * d); Published "klein-manual" "winding of cops, 15 m/min at 25 mm";
    /// Bobbin speed where the flyer is driven and the bobbin braked.
    BOBBIN_LAGS "bobbin-lags": (n: Rotation RPM 1.0..10000.0, dn: Rotation RPM 0.0..5000.0) -> nb: Rotation RPM
        = "n-dn"; |[n, d]| n - d; Published "klein-manual" "winding on flyer bobbins";
    /// Bobbin speed where the bobbin is driven and the flyer braked.
    BOBBIN_LEADS "bobbin-leads": (n: Rotation RPM 1.0..10000.0, dn: Rotation RPM 0.0..5000.0) -> nb: Rotation RPM
        = "n+dn"; |[n, d]| n + d; Published "klein-manual" "winding on flyer bobbins";
    /// Twist a driven bobbin gives: a turn a wrap is missing.
    TWIST_BOBBIN_DRIVEN "twist-bobbin-driven": (nb: Rotation RPM 50.0..20000.0, v: Speed M_MIN 0.05..30.0, d: Length MM 10.0..400.0) -> T: PerLength PER_M
        = "nb/v-1000/(pi*d)"; |[n, v, d]| n / v - 1000.0 / (PI * d); Published "klein-manual" "variation in yarn twist";
    /// Whorl ratio that one band on flyer and bobbin needs at least.
    LEAST_WHORL_RATIO "least-whorl-ratio": (d: Length MM 4.0..200.0, T: PerLength PER_M 10.0..4000.0) -> k: Ratio ONE
        = "1+1000/(pi*d*T)"; |[d, t]| 1.0 + 1000.0 / (PI * d * t); Derived "klein-manual" "no-slip band, winding at the core";
    /// Belt ratio from pitch diameters.
    PULLEY_RATIO "pulley-ratio": (D: Length MM 3.0..1000.0, d: Length MM 3.0..500.0) -> i: Ratio ONE
        = "D/d"; |[a, b]| a / b; Memory "khurmi-gupta" "ch. 11";
    /// Belt ratio where groove bottoms were measured and the belt is t thick.
    GROOVE_RATIO "pulley-ratio-from-grooves": (D: Length MM 3.0..1000.0, d: Length MM 3.0..500.0, t: Length MM 0.0..20.0) -> i: Ratio ONE
        = "(D+t)/(d+t)"; |[a, b, t]| (a + t) / (b + t); Memory "khurmi-gupta" "ch. 11";
    /// Motor speed for a spindle speed, with slip.
    MOTOR_SPEED "motor-speed": (n: Rotation RPM 1.0..20000.0, i: Ratio ONE 0.02..100.0, s: Ratio PERCENT 0.0..30.0) -> nm: Rotation RPM
        = "n*i/(1-s/100)"; |[n, i, s]| n * i / (1.0 - s / 100.0); Memory "khurmi-gupta" "ch. 11";
    /// Belt length, open, exact.
    BELT_LENGTH "belt-length": (D: Length MM 3.0..2000.0, d: Length MM 3.0..2000.0, C: Length MM 10.0..20000.0) -> L: Length MM
        = "2*sqrt(C*C-(D-d)*(D-d)/4)+pi*(D+d)/2+(D-d)*asin((D-d)/(2*C))";
        |[a, b, c]| 2.0 * (c * c - (a - b) * (a - b) / 4.0).max(0.0).sqrt() + PI * (a + b) / 2.0 + (a - b) * libm::asin(((a - b) / (2.0 * c)).clamp(-1.0, 1.0));
        ["2*C>=D+d", |[a, b, c]| 2.0 * c >= a + b]; Published "sarthaks-509872" "open belt; the same in khurmi-gupta ch. 11";
    /// Arc of the belt on the smaller pulley.
    BELT_WRAP "belt-wrap": (D: Length MM 3.0..1000.0, d: Length MM 3.0..1000.0, C: Length MM 10.0..5000.0) -> w: Angle DEG
        = "180-2*asin(abs(D-d)/(2*C))*180/pi"; |[a, b, c]| 180.0 - 2.0 * libm::asin(((a - b).abs() / (2.0 * c)).min(1.0)) * 180.0 / PI;
        ["2*C>=D+d", |[a, b, c]| 2.0 * c >= a + b]; Published "phycalcpro" "multi-pulley";
    /// Gain of a cord round a post.
    CAPSTAN "capstan": (mu: Ratio ONE 0.05..1.0, w: Angle DEG 1.0..2000.0) -> g: Ratio ONE
        = "exp(mu*w*pi/180)"; |[mu, w]| libm::exp(mu * w * PI / 180.0); Published "capstan" "gain table";
    /// Friction of a round belt wedged in a groove of half-angle b.
    WEDGE "wedge-friction": (mu: Ratio ONE 0.05..1.0, b: Angle DEG 10.0..90.0) -> m: Ratio ONE
        = "mu/sin(b*pi/180)"; |[mu, b]| mu / libm::sin(b * PI / 180.0); Published "tribology-abc" "e3_5a";
    /// Torque a belt passes before it slips, T its tension at rest.
    BELT_TORQUE "belt-torque": (T: Force N 0.1..500.0, g: Ratio ONE 1.01..100.0, d: Length MM 3.0..1000.0) -> M: Torque MN_M
        = "T*d*(g-1)/(g+1)"; |[t, g, d]| t * (g - 1.0) / (g + 1.0) * d; Derived "khurmi-gupta" "T1+T2 = 2T and T1/T2 = g";
    /// Pull on the yarn at the bobbin for a pull at the hand: orifice and hooks hold some back.
    PULL_AT_BOBBIN "pull-at-bobbin": (F: Force CN 0.5..500.0, mu: Ratio ONE 0.05..0.6, w: Angle DEG 0.0..720.0) -> Fb: Force CN
        = "F*exp(mu*w*pi/180)"; |[f, mu, w]| f * libm::exp(mu * w * PI / 180.0); Derived "capstan" "orifice and hooks as a post";
    /// Pull at the hand that a pull at the bobbin leaves.
    PULL_AT_HAND "pull-at-hand": (Fb: Force CN 0.5..5000.0, mu: Ratio ONE 0.05..0.6, w: Angle DEG 0.0..720.0) -> F: Force CN
        = "Fb/exp(mu*w*pi/180)"; |[f, mu, w]| f / libm::exp(mu * w * PI / 180.0); Derived "capstan" "the same turned round";
    /// Torque on the bobbin of a pull at a winding diameter, net of the drag that helps it round.
    BRAKE_TORQUE "brake-torque": (F: Force CN 0.5..5000.0, d: Length MM 4.0..400.0) -> M: Torque MN_M
        = "(F/100)*d/2"; |[f, d]| f / 100.0 * d / 2.0; Derived "statics" "force at a radius";
    /// Pull of a torque at a winding diameter.
    PULL_OF_TORQUE "pull-of-torque": (M: Torque MN_M 0.01..1000.0, d: Length MM 4.0..400.0) -> F: Force CN
        = "200*M/d"; |[m, d]| 200.0 * m / d; Derived "statics" "force at a radius";
    /// Torque of a brake band whose spring is at the slack, leaving end: strong and touchy.
    BAND_LEAVING "band-leaving": (T: Force N 0.01..100.0, g: Ratio ONE 1.01..50.0, d: Length MM 4.0..400.0) -> M: Torque MN_M
        = "T*(g-1)*d/2"; |[t, g, d]| t * (g - 1.0) * d / 2.0; Derived "capstan" "band brake: the two ends of a band";
    /// Torque of a brake band whose spring is at the taut, oncoming end: weak and steady.
    BAND_ONCOMING "band-oncoming": (T: Force N 0.01..100.0, g: Ratio ONE 1.01..50.0, d: Length MM 4.0..400.0) -> M: Torque MN_M
        = "T*(1-1/g)*d/2"; |[t, g, d]| t * (1.0 - 1.0 / g) * d / 2.0; Derived "capstan" "band brake: the two ends of a band";
    /// Diameter of a full bobbin: a share of its flange, so that yarn does not fall off.
    FULL_DIAMETER "full-diameter": (D: Length MM 6.0..500.0, q: Ratio ONE 0.5..1.0) -> d: Length MM
        = "D*q"; |[d, q]| d * q; Practice "practice" "leave a rim";
    /// Mass on a package.
    PACKAGE_MASS "package-mass": (D: Length MM 6.0..500.0, d: Length MM 2.0..400.0, w: Length MM 5.0..500.0, rho: Density G_CM3 0.1..0.9) -> m: Mass G
        = "(pi/4)*(D*D-d*d)*w*rho/1000"; |[a, b, w, r]| PI / 4.0 * (a * a - b * b) * w * r / 1000.0;
        ["d<=D", |[a, b, _, _]| b <= a]; Published "textilecalculation" "2015/07 package density";
    /// Bobbins to fill.
    BOBBINS "bobbins": (L: Length M 1.0..10000000.0, b: Length M 1.0..100000.0) -> n: Number EACH
        = "ceil(L/b-0.000001)"; |[l, b]| (l / b - 0.000_001).ceil(); Identity "identity" "length over length";
    /// Air drag of flyer and bobbin, from its value at 900 rpm.
    WINDAGE "windage": (M9: Torque MN_M 0.0..50.0, n: Rotation RPM 1.0..10000.0) -> M: Torque MN_M
        = "M9*(n/900)*(n/900)"; |[m, n]| m * (n / 900.0) * (n / 900.0); Derived "practice" "drag grows with the square of speed; its size is not published";
    /// Torque at the spindle: bearings, air and the whole brake, which loads the motor whether or not yarn moves.
    SPINDLE_LOAD "spindle-load": (Mb: Torque MN_M 0.0..100.0, Mw: Torque MN_M 0.0..100.0, Mk: Torque MN_M 0.0..500.0) -> M: Torque MN_M
        = "Mb+Mw+Mk"; |[a, b, c]| a + b + c; Derived "statics" "sum of torques";
    /// The same at the motor.
    MOTOR_TORQUE "motor-torque": (M: Torque MN_M 0.1..1000.0, i: Ratio ONE 0.02..100.0, eta: Ratio PERCENT 30.0..100.0) -> Mm: Torque MN_M
        = "M/(i*eta/100)"; |[m, i, e]| m / i / (e / 100.0); Memory "khurmi-gupta" "power through a belt";
    /// Current of the winding under a torque.
    CURRENT "motor-current": (M: Torque MN_M 0.01..10000.0, ke: MotorConstant V_S 0.0005..2.0, I0: Current AMP 0.0..20.0) -> I: Current AMP
        = "M/(1000*ke)+I0"; |[m, k, i0]| m / 1000.0 / k + i0; Memory "hughes-drury" "torque by kt, no-load current on top";
    /// Mean voltage the winding needs for a speed and a current, with what the driver drops.
    VOLTAGE_NEEDED "voltage-needed": (ke: MotorConstant V_S 0.0005..2.0, n: Rotation RPM 0.0..60000.0, I: Current AMP 0.0..100.0, R: Resistance OHM 0.01..500.0, u: Voltage VOLT 0.0..5.0) -> V: Voltage VOLT
        = "ke*n*pi/30+I*R+u"; |[k, n, i, r, u]| k * n * PI / 30.0 + i * r + u; Memory "hughes-drury" "V = E + I R";
    /// Share of the time the driver is on.
    DUTY "duty": (V: Voltage VOLT 0.0..200.0, Vs: Voltage VOLT 0.5..60.0) -> D: Ratio PERCENT
        = "100*V/Vs"; |[v, s]| 100.0 * v / s; Memory "buck-converter" "mean of a switched voltage";
    /// Most of the time a switch can be on.
    MOST_DUTY "most-duty": (D: Ratio PERCENT 0.0..400.0) -> D2: Ratio PERCENT
        = "min(D, 100)"; |[d]| d.min(100.0); Identity "identity" "a share of the time";
    /// Mean of a switched voltage.
    MEAN_VOLTAGE "mean-voltage": (D: Ratio PERCENT 0.0..100.0, Vs: Voltage VOLT 0.5..60.0) -> V: Voltage VOLT
        = "D*Vs/100"; |[d, v]| d / 100.0 * v; Memory "buck-converter" "mean of a switched voltage";
    /// Two torques on one shaft.
    TORQUE_SUM "torque-sum": (a: Torque MN_M 0.0..1000.0, b: Torque MN_M 0.0..1000.0) -> M: Torque MN_M
        = "a+b"; |[a, b]| a + b; Derived "statics" "sum of torques";
    /// Speed of the part the belt drives.
    SAME_SPEED "driven-part-speed": (n: Rotation RPM 1.0..20000.0) -> ns: Rotation RPM
        = "n"; |[n]| n; Identity "identity" "belt and part turn together";
    /// Current with the rotor held, at a duty.
    STALL_CURRENT "stall-current": (V: Voltage VOLT 0.5..60.0, D: Ratio PERCENT 1.0..100.0, R: Resistance OHM 0.01..500.0) -> I: Current AMP
        = "(D/100)*V/R"; |[v, d, r]| d / 100.0 * v / r; Published "mit-2007" "stall is voltage over resistance";
    /// Mean current the supply gives while the winding carries I.
    SUPPLY_CURRENT "supply-current": (D: Ratio PERCENT 0.0..200.0, I: Current AMP 0.0..500.0) -> Is: Current AMP
        = "(D/100)*I"; |[d, i]| d / 100.0 * i; Memory "buck-converter" "power in is power out";
    /// Heat in the winding.
    HEAT "winding-heat": (I: Current AMP 0.0..100.0, R: Resistance OHM 0.01..500.0) -> P: Power WATT
        = "I*I*R"; |[i, r]| i * i * r; Identity "ohm" "Joule heat";
    /// A current as a share of the stall current at the motor's own rating.
    STALL_SHARE "stall-share": (I: Current AMP 0.0..100.0, R: Resistance OHM 0.01..500.0, V: Voltage VOLT 0.5..60.0) -> q: Ratio PERCENT
        = "100*I*R/V"; |[i, r, v]| 100.0 * i * r / v; Identity "ohm" "I over V/R";
    /// Spindle speed at full voltage with nothing to hold it: yarn broken, brake off, or a switch failed on.
    RUNAWAY "runaway-speed": (V: Voltage VOLT 0.5..60.0, I0: Current AMP 0.0..20.0, R: Resistance OHM 0.01..500.0, ke: MotorConstant V_S 0.0005..2.0, i: Ratio ONE 0.02..100.0) -> n: Rotation RPM
        = "30*(V-I0*R)/(pi*ke*i)"; |[v, i0, r, k, i]| (v - i0 * r) / k * 30.0 / PI / i;
        ["I0*R<V", |[v, i0, r, _, _]| i0 * r < v]; Memory "hughes-drury" "no-load speed at another voltage";
    /// The motor's constant as the spindle sees it.
    CONSTANT_AT_SPINDLE "constant-at-spindle": (ke: MotorConstant V_S 0.0005..2.0, i: Ratio ONE 0.02..100.0, s: Ratio PERCENT 0.0..30.0) -> k: MotorConstant V_S
        = "ke*i/(1-s/100)"; |[k, i, s]| k * i / (1.0 - s / 100.0); Derived "khurmi-gupta" "speed through the belt";
    /// Voltage that a torque at the spindle takes in the winding.
    VOLTAGE_OF_TORQUE "voltage-of-torque": (M: Torque MN_M 0.0..1000.0, i: Ratio ONE 0.02..100.0, eta: Ratio PERCENT 30.0..100.0, ke: MotorConstant V_S 0.0005..2.0, R: Resistance OHM 0.01..500.0) -> V: Voltage VOLT
        = "M*R/(1000*i*(eta/100)*ke)"; |[m, i, e, k, r]| m / 1000.0 / i / (e / 100.0) / k * r; Derived "hughes-drury" "torque by kt, volts by R";
    /// Voltage left for turning and air.
    VOLTAGE_LEFT "voltage-left": (V: Voltage VOLT 0.5..60.0, u: Voltage VOLT 0.0..5.0, I0: Current AMP 0.0..20.0, R: Resistance OHM 0.01..500.0, Um: Voltage VOLT 0.0..100.0) -> C: Voltage VOLT
        = "V-u-I0*R-Um"; |[v, u, i0, r, m]| v - u - i0 * r - m; Identity "ohm" "Kirchhoff's loop";
    /// Fastest spindle under load: back-voltage and the air's share use up what is left.
    TOP_SPEED "top-speed": (C: Voltage VOLT 0.1..60.0, k: MotorConstant V_S 0.0005..10.0, U9: Voltage VOLT 0.0..20.0) -> n: Rotation RPM
        = "2*C/(k*pi/30+sqrt((k*pi/30)*(k*pi/30)+4*U9*C/810000))";
        |[c, k, u]| { let b = k * PI / 30.0; 2.0 * c / (b + (b * b + 4.0 * u * c / 810_000.0).sqrt()) }; Derived "hughes-drury" "quadratic of the motor line and drag as speed squared";
    /// Torque at the spindle with the rotor held and a current in the winding.
    START_TORQUE "start-torque": (I: Current AMP 0.0..500.0, I0: Current AMP 0.0..20.0, ke: MotorConstant V_S 0.0005..2.0, i: Ratio ONE 0.02..100.0, eta: Ratio PERCENT 30.0..100.0) -> M: Torque MN_M
        = "1000*(I-I0)*ke*i*eta/100"; |[i, i0, k, r, e]| 1000.0 * (i - i0) * k * r * e / 100.0; Memory "hughes-drury" "kt by current";
    /// Torque to get a full bobbin moving: more than what keeps it moving.
    START_NEEDS "start-needs": (k: Ratio ONE 1.0..4.0, Mb: Torque MN_M 0.0..100.0, Mk: Torque MN_M 0.0..500.0) -> M: Torque MN_M
        = "k*(Mb+Mk)"; |[k, b, m]| k * (b + m); Practice "practice" "static over moving friction";
    /// Current if the motor is reversed while it still turns.
    PLUG_CURRENT "plug-current": (V: Voltage VOLT 0.5..60.0, ke: MotorConstant V_S 0.0005..2.0, n: Rotation RPM 0.0..60000.0, R: Resistance OHM 0.01..500.0) -> I: Current AMP
        = "(V+ke*n*pi/30)/R"; |[v, k, n, r]| (v + k * n * PI / 30.0) / r; Memory "hughes-drury" "supply and back-voltage add";
    /// Time from one draw to the next.
    BEAT "beat": (l: Length CM 1.0..500.0, T: PerLength PER_M 10.0..4000.0, n: Rotation RPM 10.0..10000.0) -> t: Duration SECOND
        = "0.6*l*T/n"; |[l, t, n]| 60.0 * l / 100.0 * t / n; Derived "klein-manual" "twist is flyer speed over delivery";
    /// Smallest fuse for a current that flows on.
    FUSE "fuse": (I: Current AMP 0.01..100.0) -> F: Current AMP
        = "1.25*I"; |[i]| 1.25 * i; Published "fuse-guides" "125 per cent, then the next standard size, and no more than the wire carries";
    /// Speed after a belt from motor, thickness and slip counted.
    DRIVEN_SPEED "driven-speed": (n: Rotation RPM 1.0..60000.0, d: Length MM 3.0..1000.0, D: Length MM 3.0..1000.0, t: Length MM 0.0..20.0, s: Ratio PERCENT 0.0..30.0) -> n2: Rotation RPM
        = "n*(1-s/100)*(d+t)/(D+t)"; |[n, a, b, t, s]| n * (a + t) / (b + t) * (1.0 - s / 100.0); Memory "khurmi-gupta" "ch. 11";
    /// Belt to cut for a stretch on the pulleys.
    BELT_CUT "belt-cut-length": (L: Length MM 50.0..10000.0, s: Ratio PERCENT 0.0..25.0) -> c: Length MM
        = "L/(1+s/100)"; |[l, s]| l / (1.0 + s / 100.0); Published "round-belt-note" "stretch on the cut length";
    /// Speed at a torque, on the motor's straight line.
    SPEED_AT_TORQUE "speed-at-torque": (n0: Rotation RPM 10.0..60000.0, T: Torque NEWTON_M 0.0..100.0, Ts: Torque NEWTON_M 0.0001..100.0) -> n: Rotation RPM
        = "n0*(1-T/Ts)"; |[n0, t, ts]| n0 * (1.0 - t / ts); Published "mit-2007" "motors 3 and 4";
    /// How densely a package is wound.
    PACKAGE_DENSITY "package-density": (m: Mass G 0.1..20000.0, D: Length MM 6.0..500.0, d: Length MM 2.0..400.0, w: Length MM 5.0..500.0) -> rho: Density G_CM3
        = "4000*m/(pi*(D*D-d*d)*w)"; |[m, a, b, w]| 4000.0 * m / (PI * (a * a - b * b) * w);
        ["d<D", |[_, a, b, _]| b < a]; Published "textilecalculation" "2015/07 package density";
}
