#!/bin/sh
# Renders a sequence through Slurm, as an array of shares.
#
#   slurm.sh SHARES lookwright render LOOK IN... -o OUT --from ENCODING ...
#
# Every share is one task of the array. When all have ended, those that did not end well are
# submitted again, up to ROUNDS times (3); each goes on where it was cut off. Set before it is called:
#
#   LOGS      folder of the shares' logs (lookwright-logs); one folder for each work
#   SBATCH    more options of sbatch, such as "--partition=night --cpus-per-task=16"
#
# Exit code: 0 if every picture is there, 1 otherwise.
set -eu

# What a task of the array does.
if [ "${1-}" = --task ]; then
    shares=$2 logs=$3
    shift 3
    share=$SLURM_ARRAY_TASK_ID
    # A log tells of this round alone.
    rm -f "$logs/$share.jsonl"
    exec "$@" --resume --keep-going --quiet --share "$share/$shares" --log "$logs/$share.jsonl"
fi

if [ $# -lt 3 ]; then
    sed -n '2,/^set/s/^# \{0,1\}//p' "$0"
    exit 2
fi
if ! command -v sbatch >/dev/null; then
    echo "slurm.sh: there is no sbatch here: run it where Slurm's commands are" >&2
    exit 2
fi
shares=$1
shift
logs=$(mkdir -p "${LOGS:-lookwright-logs}" && cd "${LOGS:-lookwright-logs}" && pwd)

# The shares whose last line does not say that they ended without a failure.
missing() {
    share=1 list=
    while [ "$share" -le "$shares" ]; do
        last=$(tail -n 1 "$logs/$share.jsonl" 2>/dev/null || true)
        case $last in
            *'"event":"end","failed":0,'*) ;;
            *) list=$list${list:+,}$share ;;
        esac
        share=$((share + 1))
    done
    echo "$list"
}

round=1
rm -f "$logs"/*.jsonl
list=$(missing)
while [ -n "$list" ] && [ "$round" -le "${ROUNDS:-3}" ]; do
    echo "round $round: shares $list of $shares"
    # The task's own failure is told by its log.
    # shellcheck disable=SC2086
    sbatch --wait --quiet --array="$list" --output="$logs/%a.txt" ${SBATCH-} \
        "$0" --task "$shares" "$logs" "$@" || true
    list=$(missing)
    round=$((round + 1))
done
if [ -n "$list" ]; then
    echo "slurm.sh: these shares are not done: $list; see $logs" >&2
    exit 1
fi
echo "all $shares shares are done"
