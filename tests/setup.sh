# Sourced by tests/run.sh and samples/run.sh: installs Debian packages that are missing, saying what and why.
#   need "why" probe:package ...   a probe is a command on the path, or a file when it begins with /
#   install_needed                 installs all that was found missing, once
missing=

need()
{
    why=$1
    shift
    for pair in "$@"; do
        probe=${pair%%:*}
        package=${pair#*:}
        case "$probe" in
            /*) [ -e "$probe" ] && continue ;;
            *) command -v "$probe" >/dev/null 2>&1 && continue ;;
        esac
        echo "Missing: $package (to $why)"
        missing="$missing $package"
    done
}

install_needed()
{
    [ -n "$missing" ] || return 0
    as_root=
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null 2>&1 || {
            echo "As root, please: apt-get install$missing" >&2
            exit 3
        }
        as_root=sudo
    fi
    echo "Installing:$missing"
    $as_root apt-get update -qq
    # shellcheck disable=SC2086 # the list is meant to be split
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null
    missing=
}
