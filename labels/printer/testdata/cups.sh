#!/bin/sh
# Starts a message bus, name service, an IPP printer and CUPS in the network
# and process namespace that it is run in, all files in the folder $1, and runs
# the rest of the arguments. Everything ends with the namespace.
set -e
dir=$1
shift
cd "$dir"
mkdir -p run ipp etc/ppd requests/tmp cache state log
chmod 755 "$dir"
chmod 1777 requests/tmp
ip link set lo up
mkdir -p /run/avahi-daemon
mount -t tmpfs tmpfs /run/avahi-daemon # its process id, which would outlive it

cat >dbus.conf <<EOF
<busconfig><type>system</type><listen>unix:path=$dir/run/bus</listen>
<policy context="default"><allow user="*"/><allow own="*"/><allow send_destination="*" eavesdrop="true"/><allow receive_sender="*" eavesdrop="true"/>
<allow send_type="method_call"/><allow send_requested_reply="true" send_type="method_return"/>
<allow send_requested_reply="true" send_type="error"/><allow send_type="signal"/></policy></busconfig>
EOF
DBUS_SYSTEM_BUS_ADDRESS=unix:path=$dir/run/bus
export DBUS_SYSTEM_BUS_ADDRESS
dbus-daemon --config-file="$dir/dbus.conf" --fork

printf '[server]\nallow-interfaces=lo\nuse-ipv6=no\nenable-dbus=yes\n[publish]\npublish-workstation=no\n' >avahi.conf
avahi-daemon -f "$dir/avahi.conf" --no-chroot --no-drop-root --no-rlimits >avahi.log 2>&1 &
i=0
until grep -q "startup complete" avahi.log; do i=$((i + 1)); [ $i -lt 100 ]; sleep 0.1; done

ippeveprinter -p 8731 -n localhost -r off -d "$dir/ipp" -k -f application/pdf,image/pwg-raster,image/urf Bench >ipp.log 2>&1 &

cat >etc/cups-files.conf <<EOF
ServerRoot $dir/etc
RequestRoot $dir/requests
CacheDir $dir/cache
StateDir $dir/state
TempDir $dir/requests/tmp
AccessLog $dir/log/access
ErrorLog $dir/log/error
PageLog $dir/log/page
SystemGroup root
User lp
Group lp
Sandboxing relaxed
EOF
cat >etc/cupsd.conf <<EOF
Listen 127.0.0.1:8732
Listen $dir/run/cups.sock
Browsing No
DefaultAuthType None
LogLevel debug
<Location />
Order allow,deny
Allow all
</Location>
<Location /admin>
Order allow,deny
Allow all
</Location>
<Policy default>
<Limit All>
Order deny,allow
Allow all
</Limit>
</Policy>
EOF
cupsd -f -c "$dir/etc/cupsd.conf" -s "$dir/etc/cups-files.conf" >cupsd.log 2>&1 &
echo $! >cupsd.pid
CUPS_SERVER=127.0.0.1:8732
export CUPS_SERVER
i=0
until LC_ALL=C lpstat -r 2>/dev/null | grep -q "is running"; do i=$((i + 1)); [ $i -lt 100 ]; sleep 0.1; done
i=0
until lpadmin -p bench -E -v ipp://localhost:8731/ipp/print -m everywhere 2>lpadmin.log; do i=$((i + 1)); [ $i -lt 50 ]; sleep 0.2; done
"$@"
